// The strike plan of the open rig: worked out when asked for, entered into the rig, judged from then on as it stands.
import { computed, signal } from "@preact/signals";
import { ask, asFailure } from "./calculator.js";
import { edit, record } from "./rig.js";
import { settings } from "./settings.js";
import { flushTyping } from "./typing.js";

/**
 * @typedef {import("./shapes.js").Failure} Failure
 * @typedef {import("./strike_shapes.js").Plan} Plan
 */

/** Moments that are judged at most in each part: between two of them the core answers whatever else was asked. */
const EFFORTS = [60, ...Array(7).fill(150)];

/** @typedef {{of: string, working: boolean, part: number, answer: Plan | null, trouble: Failure | null}} Proposal */

/** @type {Proposal} */
const NONE = { of: "", working: false, part: 0, answer: null, trouble: null };

/** What was last worked out, for which rig. `answer` stays until a newer one, for what it says of being the shortest; `part`: 0 to 1 of the search that is done. */
export const proposal = signal(NONE);

/** Whether a strike time stands in the rig or is being typed into it. */
export const entered = computed(() => {
  const now = record.value;
  if (!now) return false;
  const typed = new Map(now.pending.map((change) => [change.address, change.text]));
  const loads = /** @type {Record<string, {strike_at?: string}>} */ (now.rig.loads ?? {});
  return Object.entries(loads).some(([id, load]) => typed.get(`loads/${id}/strike_at`) ?? load.strike_at);
});

/** Has the core find the shortest plan that keeps every limit, and enters it. What is found so far is entered when the search is stopped. */
export async function planStrikes() {
  flushTyping();
  const before = record.value;
  if (!before) return;
  const { length, size } = settings.value;
  const question = { rig: before.rig, changes: before.pending, optimise: true, show: { length, size } };
  proposal.value = { ...NONE, of: before.id, working: true };
  try {
    for (const [k, effort] of EFFORTS.entries()) {
      const answer = /** @type {Plan} */ (await ask("strike", { ...question, effort }));
      if (proposal.value.of !== before.id || !proposal.value.working) return; // stopped, or another rig was opened
      proposal.value = { ...proposal.value, answer, part: (k + 1) / EFFORTS.length };
      if (answer.proven || answer.left_out.length === Object.keys(before.rig.loads ?? {}).length) break;
    }
    enter();
  } catch (error) {
    proposal.value = { ...NONE, of: before.id, trouble: asFailure(error) };
  }
}

/** Ends the search; a plan that was found keeps every limit, even where a shorter one may exist. */
export function enter() {
  const { answer, of } = proposal.value;
  proposal.value = { ...proposal.value, working: false };
  if (answer?.order.length && record.value?.id === of) edit(answer.changes, "Plan the strikes");
}

/** Takes every strike time out again. @param {Plan} plan */
export function clearPlan(plan) {
  proposal.value = NONE;
  edit(Object.keys(plan.lamp_fields).map((load) => ({ address: `loads/${load}/strike_at`, text: "" })), "Clear the strike times");
}

/** @param {Plan} plan */
const times = (plan) => JSON.stringify(plan.order.map(({ load, at }) => [load, at.value]));

/** What was proposed, if that is still what is entered. @param {Plan} plan */
export function asProposed(plan) {
  const { of, answer } = proposal.value;
  return of === record.value?.id && answer && times(answer) === times(plan) ? answer : null;
}
