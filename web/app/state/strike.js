// The strike plan of the open rig: worked out when asked for, entered into the rig, judged from then on as it stands.
import { computed, signal } from "@preact/signals";
import { ask, asFailure } from "./calculator.js";
import { edit, record } from "./rig.js";
import { flushTyping } from "./typing.js";

/**
 * @typedef {import("./shapes.js").Failure} Failure
 * @typedef {import("./strike_shapes.js").Plan} Plan
 */

/** What was last worked out, for which rig. `answer` stays until a newer one, for what it says of being the shortest. */
export const proposal = signal(/** @type {{of: string, working: boolean, answer: Plan | null, trouble: Failure | null}} */ ({ of: "", working: false, answer: null, trouble: null }));

/** Whether a strike time stands in the rig or is being typed into it. */
export const entered = computed(() => {
  const now = record.value;
  if (!now) return false;
  const typed = new Map(now.pending.map((change) => [change.address, change.text]));
  const loads = /** @type {Record<string, {strike_at?: string}>} */ (now.rig.loads ?? {});
  return Object.entries(loads).some(([id, load]) => typed.get(`loads/${id}/strike_at`) ?? load.strike_at);
});

/** Has the core find the shortest plan that keeps every limit, and enters it. */
export async function planStrikes() {
  flushTyping();
  const before = record.value;
  if (!before) return;
  proposal.value = { of: before.id, working: true, answer: null, trouble: null };
  try {
    const answer = /** @type {Plan} */ (await ask("strike", { rig: before.rig, changes: before.pending, optimise: true }));
    if (record.value?.id !== before.id) return;
    proposal.value = { of: before.id, working: false, answer, trouble: null };
    if (answer.order.length) edit(answer.changes, "Plan the strikes");
  } catch (error) {
    proposal.value = { of: before.id, working: false, answer: null, trouble: asFailure(error) };
  }
}

/** Takes every strike time out again. @param {Plan} plan */
export function clearPlan(plan) {
  proposal.value = { of: "", working: false, answer: null, trouble: null };
  edit(Object.keys(plan.lamp_fields).map((load) => ({ address: `loads/${load}/strike_at`, text: "" })), "Clear the strike times");
}

/** @param {Plan} plan */
const times = (plan) => JSON.stringify(plan.order.map(({ load, at }) => [load, at.value]));

/** What was proposed, if that is still what is entered. @param {Plan} plan */
export function asProposed(plan) {
  const { of, answer } = proposal.value;
  return of === record.value?.id && answer && times(answer) === times(plan) ? answer : null;
}
