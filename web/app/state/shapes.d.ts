/** The shapes that the calculation core answers with. The page shows them and computes nothing. */

export type Verdict = "clear" | "tight" | "stop" | "unknown";
export type Origin = "stated" | "nameplate" | "measured" | "published" | "typical" | "assumed" | "computed";
/** A rig document. Opaque here: only the core reads or changes it. */
export type RigDocument = { name?: string; [key: string]: unknown };

export type Problem = { code: string; address: string; message: string; way_out: string };
export type Quantity = { value: number; unit: string; shown: string; shown_unit: string };
export type Cite = { source: string; title: string; locator: string; how_sure: string };
export type Term = {
  symbol: string; symbol_mathml: string; name: string; quantity: Quantity; origin: Origin; cite: Cite | null; note: string;
};
export type Step = {
  law: string; title: string; formula: string; symbols_mathml: string; numbers_mathml: string;
  terms: Term[]; result: Term; cite: Cite | null;
};
export type Evidence = {
  method: string; equations: { text: string; mathml: string }[]; iterations: number; residuals: Term[];
};
export type Change = { address: string; text: string };
export type Remedy = { text: string; changes: Change[] };
export type Assumption = { term: Term; firm_up: string; address: string };
export type Finding = {
  question: string; title: string; place: string; verdict: Verdict; says: string; note: string;
  demand: Term | null; limit: { relation: string; term: Term } | null; margin: Quantity | null;
  steps: Step[]; evidence: Evidence | null; assumptions: Assumption[]; cautions: string[];
  remedies: Remedy[]; problems: Problem[];
};
export type Field = {
  address: string; label: string; kind: "quantity" | "choice" | "text"; text: string;
  typical: { text: string; origin: Origin; note: string } | null; unit: string; units: string[];
  options: { value: string; label: string }[]; hint: string; keypad: "decimal" | "text";
  problem: Problem | null; more: boolean; section?: string;
};
export type Link = {
  id: string; kind: "supply" | "run" | "ballast" | "head_cable" | "lamp" | "shutter"; title: string; place: string;
  verdict: Verdict; verdict_note: string; figure: Term | null; caption: string; detail: string;
  estimates: string[]; share: number | null; medium: "power" | "light";
  bar: { fraction: number; limit: number } | null; findings: Finding[]; remedies: Remedy[]; fields: Field[];
};
export type Chain = {
  load: string; name: string; shot: string | null; verdict: Verdict; headline: string; sentence: string;
  links: Link[]; problems: Problem[];
};
export type LampLine = { id: string; name: string; kind: string; verdict: Verdict; headline: string };
export type Check = {
  rig: RigDocument; name: string; problems: Problem[]; lamps: LampLine[];
  shots: { id: string; name: string; text: string }[]; chain: Chain | null; source: Finding[]; rig_fields: Field[]; version: string;
  tree: import("./whole.js").Node[] | null; lines: import("./whole.js").LineLoad[];
  workings?: Step[];
};
export type Kit = {
  lamps: { id: string; label: string; group: string; ballasts: { id: string; label: string; typical_line: string }[] }[];
  supplies: { id: string; label: string; group: string }[];
  runs: { id: string; label: string }[];
};
export type DrillLine = { id: string; title: string; teaches: string; minutes: number; level: string };
export type Question = { id: string; prompt: string; unit: string; tolerance: string; hints: string[] };
export type Drill = {
  id: string; code: string; title: string; story: string[]; rig: RigDocument; load: string; shot: string | null;
  questions: Question[]; cautions: string[];
};
export type Mark = {
  outcome: "right" | "close" | "wrong" | "unit" | "unreadable"; says: string; expected: Term | null; finding: Finding | null;
};
export type Source = { id: string; title: string; edition: string; how_sure: string; note: string };
export type Failure = { code: string; message: string; hint: string; problems: Problem[]; detail: string };

/** Answers with the moment they were made, packed; `good` is the last chain without a problem, where this one has some. */
export type Answers = { check: Check; at: string; good: Chain | null; advised?: boolean };
/** One rig as it is kept on this device. */
export type RigRecord = {
  id: string; rev: number; name: string; rig: RigDocument; pending: Change[]; load: string; shot: string;
  answers: Answers | null; saved: string; deleted: string;
};
export type Snapshot = { rig: RigDocument; pending: Change[]; load: string; label: string };
export type History = { past: Snapshot[]; future: Snapshot[] };
