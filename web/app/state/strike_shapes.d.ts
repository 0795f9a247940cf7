/** The shapes that the core answers with about striking and dimming. The page shows them and computes nothing. */
import type { Change, Field, Finding, Problem, Quantity, Term, Verdict } from "./shapes.js";

/** A span of time in seconds, with its "m:ss". */
export type Time = Quantity & { clock: string };
export type Wait = { kind: "first" | "least gap" | "short" | "limit" | "free"; says: string; finding: Finding | null };
export type Start = { load: string; name: string; at: Time; full_at: Time; colour_at: Time; address: string; feed: string; again: string; wait: Wait };
type Columns = { [name: string]: (number | null)[] };
export type Course = {
  t: number[]; lines: Columns; outlet: Columns; apparent: (number | null)[]; active: (number | null)[];
  light: { [load: string]: number[] }; voltages: Columns; dips: { at: number; loads: string[]; dip: number }[];
};
export type Plan = {
  problems: Problem[]; verdict: Verdict; says: string; entered: boolean; proven: boolean; judged: number; gap: Time; order: Start[];
  findings: Finding[]; course: Course; limits: { line: number | null; apparent: number | null; active: number | null };
  left_out: { load: string; name: string; problems: Problem[] }[]; changes: Change[]; fields: Field[];
  lamp_fields: { [load: string]: Field[] }; cautions: string[];
};
export type Dropped = {
  verdict: Verdict; says: string; strike_after: Time; light_after: Time; colour_after: Time;
  options: { text: string; verdict: Verdict; says: string; off: string[] }[]; findings: Finding[]; cautions: string[]; fields: Field[];
};
export type WarmUp = {
  curve: { t: number[]; light: number[]; power: number[]; current: number[] }; findings: Finding[]; cautions: string[]; fields: Field[];
};

/** What someone pressed, and when, as the phone's clock showed it: seconds since 1970. */
export type Press = { load: string; what: "struck" | "out" | "hot" | "clock"; at: number; by?: number };
export type Timer = {
  name: string; state: "cold" | "running up" | "full" | "cooling"; since: number | null; full_at: number | null; colour_at: number | null;
  ready_at: number | null; burnt: Time; strikes: number; unsure: boolean; says: string;
};
/** One rig's day as it is kept: what was pressed, the last timers, and when the page last looked at the clock. */
export type Day = { of: string; marks: Press[]; lamps: { [load: string]: Timer }; seen: number };

export type Setting = { level: Term | null; power: Term; light: Term; stops: Term; kelvin: string };
export type Dim = {
  setting: Setting | null; table: Setting[]; colour_known: boolean; cautions: string[]; changes: Change[]; fields: Field[];
  below: { floor: Setting; left: Term; transmission: Term; distance: Term | null; doubles: number; singles: number; left_over: Term } | null;
  steps: import("./shapes.js").Step[];
};
export type Bank = {
  lamps: { load: string; name: string; full: Term; light: Term; setting: Setting; current: Term | null; left: Term | null }[];
  total: Term; supply: Term | null; finding: Finding; changes: Change[];
};
type Point = { setting: Term; light: Term | null; stops: Term };
export type Refit = {
  exponent: Term; residual: Term; finding: Finding; points: Point[]; wanted: Point | null; given: Point | null; changes: Change[];
};
export type HeadCables = {
  share: Quantity; finding: Finding;
  sizes: { size: string; length: Term | null; ceiling: string; rating: Term | null; current: Term; changes: Change[] }[];
};
export type ControlLine = {
  problems: Problem[]; verdict: Verdict; findings: Finding[]; fields: Field[]; lines: { id: string; name: string }[]; cautions: string[];
  receivers: { load: string; name: string; first: number | null; last: number | null; line: string; fields: Field[] }[];
  others: { load: string; name: string }[];
};
