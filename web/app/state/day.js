// The day's marks of the open rig, and the timers that the core makes of them. Written down at
// every press; no timer is ever counted, each is the difference between the clock and an instant.
import { effect, signal, untracked } from "@preact/signals";
import { ask, asFailure } from "./calculator.js";
import { isDayOf, keepDay, keptDay } from "./day_kept.js";
import { record } from "./rig.js";
import { tell } from "./screen.js";
import { ring } from "./awake.js";

/**
 * @typedef {import("./strike_shapes.js").Press} Press
 * @typedef {import("./strike_shapes.js").Day} Day
 */

const SLACK = 1.5; // s; less than this is a clock being trimmed
const LOOK = 5; // s between two looks at the clock that are written down
const ASK = 60; // s between two questions, when nothing else happens

const wall = () => Date.now() / 1000;

/** @type {import("@preact/signals").Signal<Day>} */
export const day = signal(/** @type {Day} */ ({ of: "", marks: [], lamps: {}, seen: 0 }));
/** The clock as the timers show it. */
export const now = signal(wall());
/** True when a press could not be written down. */
export const unsaved = signal(false);

/** `performance.now()` when the clock was last seen in this life of the page: nobody can set that one. */
let steadyAt = /** @type {number | null} */ (null);
let asked = 0;

/** @param {Partial<Day>} changes */
function put(changes) {
  day.value = { ...day.value, ...changes };
  unsaved.value = !keepDay(day.value);
}

effect(() => {
  const id = record.value?.id ?? "";
  if (id !== untracked(() => day.value.of)) [day.value, steadyAt] = [keptDay(id), null];
});

addEventListener("storage", ({ key }) => {
  if (isDayOf(key, day.value.of)) [day.value, steadyAt] = [keptDay(day.value.of), null];
});

/** Whether the clock shows less than has surely passed. */
export function wentBack() {
  const { seen } = day.value;
  const passed = steadyAt === null ? 0 : (performance.now() - steadyAt) / 1000;
  return seen > 0 && seen + passed - wall() > SLACK;
}

/** Has the core make the timers anew. */
export async function refresh() {
  const { of, marks, seen } = day.value;
  const rig = record.value?.rig;
  if (!rig || !marks.length) return;
  const [at, steady] = [wall(), performance.now()];
  asked = at;
  const since = seen ? { last_seen: seen, ...(steadyAt === null ? {} : { steady: (steady - steadyAt) / 1000 }) } : {};
  try {
    const answer = await ask("timers", { rig, marks, now: at, ...since }, { kind: "timers" });
    if (day.value.of !== of || day.value.marks !== marks) return; // pressed meanwhile: that press asks again
    steadyAt = steady;
    put({ lamps: answer.lamps, seen: at, ...(answer.mark ? { marks: [...marks, answer.mark] } : {}) });
  } catch (error) {
    if (!(error instanceof DOMException)) tell({ text: asFailure(error).message });
  }
}

/** Writes down what was pressed, with the moment of the press. @param {string} load @param {Press["what"]} what */
export async function press(load, what) {
  const at = wall();
  if (wentBack()) await refresh(); // the step back of the clock comes before the press
  put({ marks: [...day.value.marks, { load, what, at }] });
  now.value = wall();
  await refresh();
}

/** The last thing that was pressed. @param {Day} of */
export const lastPress = ({ marks }) => marks.filter((mark) => mark.what !== "clock").at(-1);

/** Takes the last press back. */
export async function takeBack() {
  const last = lastPress(day.value);
  const marks = day.value.marks.filter((mark) => mark !== last);
  put({ marks, lamps: marks.length ? day.value.lamps : {} });
  await refresh();
}

/** Forgets the marks and hours of this rig; the message can bring them back. */
export function forget() {
  const before = day.value;
  put({ marks: [], lamps: {} });
  tell({ text: "Marks and hours of this rig forgotten.", act: { label: "Put back", run: () => (put({ marks: before.marks, lamps: before.lamps }), refresh()) } });
}

/** Whether a lamp reached something between two moments. @param {number} from @param {number} to */
const reached = (from, to) =>
  Object.values(day.value.lamps).some((lamp) => [lamp.full_at, lamp.colour_at, lamp.ready_at].some((at) => at !== null && from < at && at <= to));

function look() {
  const before = now.value;
  now.value = wall();
  if (!day.value.marks.length) return;
  const event = reached(before, now.value);
  if (event) ring();
  if (event || wentBack() || now.value - asked >= ASK) refresh();
  else if (now.value - day.value.seen >= LOOK) writeLook();
}

function writeLook() {
  steadyAt = performance.now();
  put({ seen: now.value });
}

/** Looks at the clock once a second while the timers are shown. @returns {() => void} stops it */
export function watchClock() {
  const shown = () => document.hidden || (look(), refresh());
  const beat = setInterval(look, 1000);
  document.addEventListener("visibilitychange", shown);
  addEventListener("pageshow", shown);
  look();
  refresh();
  return () => {
    clearInterval(beat);
    document.removeEventListener("visibilitychange", shown);
    removeEventListener("pageshow", shown);
  };
}
