// What the core says of the open rig's shots: asked again whenever the rig has changed and its text is settled.
import { computed, effect, signal, untracked, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, asFailure } from "./calculator.js";
import { record, replace } from "./rig.js";
import { settings } from "./settings.js";
import { flushTyping } from "./typing.js";
import { asEntered } from "./whole.js";

/**
 * @typedef {import("./shapes.js").Failure} Failure
 * @typedef {import("./shapes.js").RigDocument} RigDocument
 */

/** Wide enough to hold the list and an open shot side by side. */
const query = matchMedia("(min-width: 75rem)");
export const roomy = signal(query.matches);
query.addEventListener("change", () => (roomy.value = query.matches));

/** The rig once every change is in it, as text: an answer that changes nothing asks nothing anew. */
const settled = signal("");
effect(() => {
  const now = record.value;
  if (!now) settled.value = "";
  else if (!now.pending.length) settled.value = JSON.stringify(now.rig);
});

/** @param {unknown} error */
const overtaken = (error) => error instanceof DOMException && error.name === "AbortError";

/**
 * The core's answer about the open rig, and whether the rig has moved on since.
 * @template T
 * @param {string} method
 * @param {object} params beside the rig
 * @param {string} [kind] of questions of one kind only the latest is answered
 * @returns {{answer: T | null, trouble: Failure | null, stale: boolean}}
 */
export function useAnswer(method, params, kind = method) {
  const state = useSignal(/** @type {{answer: T | null, trouble: Failure | null, of: string}} */ ({ answer: null, trouble: null, of: "" }));
  const wanted = JSON.stringify([method, params]);
  useEffect(
    () =>
      effect(() => {
        const text = settled.value;
        if (!text) return;
        const { length, size } = settings.value;
        const question = { ...params, rig: JSON.parse(text), show: { length, size } };
        untracked(() => ask(method, question, { kind })).then(
          (answer) => (state.value = { answer, trouble: null, of: wanted + text }),
          (error) => overtaken(error) || (state.value = { ...state.value, trouble: asFailure(error) }),
        );
      }),
    [wanted],
  );
  const { answer, trouble, of } = state.value;
  return { answer, trouble, stale: Boolean(record.value?.pending.length) || of !== wanted + settled.value };
}

/** Lamps of the open rig as the last check listed them. */
export const lamps = computed(() => record.value?.answers?.check.lamps ?? []);

/**
 * Has the core make a new rig of the open one with all that is entered, answered or not, as one step of undo.
 * @template {{rig: RigDocument}} T
 * @param {string} method
 * @param {object} params
 * @param {string} label what undo calls it
 * @returns {Promise<T | null>} null when another rig was opened meanwhile
 */
export async function rework(method, params, label) {
  flushTyping();
  const before = record.value;
  if (!before) return null;
  const made = await ask(method, { ...params, rig: await asEntered() });
  if (record.value?.id !== before.id) return null;
  replace(made.rig, record.value.load, label, before.pending);
  return made;
}

/** @param {string} [like] the shot to copy @returns {Promise<string[] | void>} where the new shot is shown */
export async function addShot(like = "") {
  const made = /** @type {{rig: RigDocument, shot: string} | null} */ (await rework("add_shot", { like }, like ? "Copy a shot" : "Add a shot"));
  if (made) return ["shots", "shot", made.shot];
}

/** @param {string} shot @param {string} name */
export const removeShot = (shot, name) => rework("remove_shot", { shot }, `Remove ${name}`);
