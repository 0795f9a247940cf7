import { signal } from "@preact/signals";

/** The screen and what follows it: "#drills/drop/4711" is ["drills", "drop", "4711"]. */
const read = () => location.hash.replace(/^#\/?/, "").split("/").filter(Boolean).map(decodeURIComponent);

export const route = signal(read());

addEventListener("hashchange", () => {
  route.value = read();
  scrollTo(0, 0);
});

/** @param {string[]} parts */
export const href = (...parts) => "#" + parts.map(encodeURIComponent).join("/");

/** @param {string[]} parts */
export function go(...parts) {
  location.hash = href(...parts);
}
