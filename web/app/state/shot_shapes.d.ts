/** The shapes that the core answers with about light on camera. The page shows them and computes nothing. */
import type { Change, Field, Finding, Origin, Problem, Quantity, Remedy, RigDocument, Step, Term, Verdict } from "./shapes.js";

export type Axis = { label: string; unit: string; scale: string };
export type PlotLine = { name: string; points: [number, number][]; labels: string[] };
export type PlotMark = { label: string; x: number; y: number; verdict: Verdict | "" };
export type PlotBand = { label: string; from: number; to: number; verdict: Verdict | "" };
export type PlotShape = {
  id: string; title: string; says: string; x: Axis; y: Axis; lines: PlotLine[]; marks: PlotMark[]; bands: PlotBand[];
  levels: { label: string; y: number }[];
};
type OfRig = { rig: RigDocument; version: string; problems: Problem[] };

export type ShotLamp = { id: string; name: string; title: string; form: string; verdict: Verdict; problems: Problem[] };
export type Cell = { load: string; verdict: Verdict; spread: Quantity | null; says: string; share: Quantity | null };
export type Row = {
  id: string; name: string; text: string; kind: string; verdict: Verdict; spread: Quantity | null; says: string;
  shared: boolean; advice: Remedy | null; problems: Problem[]; cells: Cell[];
};
export type Shots = OfRig & {
  verdict: Verdict; headline: string; lamps: ShotLamp[]; shots: Row[]; list_advice: Remedy[]; limit_fields: Field[];
};

export type Light = {
  id: string; name: string; title: string; form: string; share: Quantity | null; entries: Term[]; fields: Field[];
  recorded: boolean; note: string; forget: Change[];
};
export type ShotAnswer = OfRig & {
  shot: string; name: string; text: string; load: string; finding: Finding; lamps: Light[]; plots: PlotShape[];
  under: { loads: string[]; worst: string; says: string } | null;
  fields: Field[]; share_fields: Field[]; limit_fields: Field[];
};
export type Mode = { id: string; title: string; lamp: string; present: boolean; highest: Term | null; shown: Quantity | null; finding: Finding };
export type Safe = { value: Term; holds: string; drift_proof: boolean; step: Step };
export type Limits = OfRig & {
  load: string; name: string; says: string; modes: Mode[]; rates: Safe[]; angles: Safe[]; plot: PlotShape | null; unknown: Problem[]; fields: Field[];
};
export type ShotsSheet = OfRig & {
  name: string; supply: string; at: string; unknown: Problem[]; limits: Term[]; cautions: string[];
  lamps: { id: string; name: string; title: string; shown: Quantity | null; steady: boolean; says: string }[];
  shots: (Omit<Row, "advice"> & { lit: string; advice: string[] })[];
  estimates: { lamp: string; term: Term }[];
};
export type Exposure = OfRig & {
  shot: string; text: string; finding: Finding; colours: Finding[]; shares: Remedy | null; fields: Field[];
  lamps: { id: string; name: string; lux: Term | null; share: Quantity | null; fields: Field[] }[];
};
export type Recording = {
  says: string; terms: Term[]; orders: { order: number; frequency: Term; size: Term; degrees: number }[];
  findings: Finding[]; plots: PlotShape[]; notes: string[]; problems: Problem[]; changes: Change[];
  shots: { id: string; name: string; text: string; verdict: Verdict; spread: Quantity | null; says: string }[];
};
export type Tone = { name: string; low: Term; middle: Term; high: Term; rung_by: string; step: Step };
export type Sweep = OfRig & {
  load: string; name: string; readings: { frequency: Quantity; seen: string; words: string }[];
  choices: { value: string; label: string }[];
  windows: { low: Quantity; high: Quantity; width: Quantity; readings: number }[];
  finding: Finding; tones: Tone[]; plot: PlotShape | null; cautions: string[]; fields: Field[];
};
export type { Origin };
