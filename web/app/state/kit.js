import { signal } from "@preact/signals";
import { ask } from "./calculator.js";

/** The generic kit that a lamp is picked from; fetched once. */
export const kit = signal(/** @type {import("./shapes.js").Kit | null} */ (null));

export async function fetchKit() {
  if (!kit.value) kit.value = await ask("kit", {});
}
