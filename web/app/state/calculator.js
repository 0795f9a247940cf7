// The one place where the page meets the calculation core.
import { computed, signal } from "@preact/signals";
import { call, restart, state } from "../core/client.js";

/** @typedef {import("./shapes.js").Failure} Failure */

/** Asks the core; a question put before it has started waits. Throws a Failure. */
export const ask = call;
export const tryAgain = restart;

export const phase = computed(() => state.value.status);

/** The state of the calculator in words; it is never left to a colour or a spinner. */
export const statusWords = computed(() => {
  const { status, words } = state.value;
  if (status === "failed") return `Calculator failed. ${words}`;
  return status === "starting" ? `Calculator starting: ${words}` : `Calculator: ${words.toLowerCase()}`;
});

/** True when the core answers questions, or is about to answer one. */
export const isUp = computed(() => phase.value === "ready" || phase.value === "working");

/**
 * @param {unknown} error
 * @returns {Failure}
 */
export function asFailure(error) {
  const known = /** @type {Partial<Failure>} */ (error ?? {});
  return {
    code: known.code ?? "failed",
    message: known.message ?? String(error),
    hint: known.hint ?? "",
    problems: known.problems ?? [],
    detail: known.detail ?? "",
  };
}

/** The generic kit that a lamp is picked from; fetched once. */
export const kit = signal(/** @type {import("./shapes.js").Kit | null} */ (null));

export async function fetchKit() {
  if (!kit.value) kit.value = await ask("kit", {});
}
