import { signal } from "@preact/signals";

/** Wide enough to hold the chain and an open link side by side. */
const query = matchMedia("(min-width: 50rem)");
export const wide = signal(query.matches);
query.addEventListener("change", () => (wide.value = query.matches));
