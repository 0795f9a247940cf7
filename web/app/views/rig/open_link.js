// Which link of the chain is open.
import { signal } from "@preact/signals";
import { chain } from "../../state/shown.js";
import { wide } from "../../state/screen.js";
import { focusField } from "../../ui/lists.js";

/** @typedef {import("../../state/shapes.js").Chain} Chain */
/** @typedef {import("../../state/shapes.js").Verdict} Verdict */

export const openLink = signal("");

/** @type {Verdict[]} */
const WORST_FIRST = ["stop", "unknown", "tight", "clear"];

/** The link that is open; a wide screen always has one, first the worst. @param {Chain} shown */
export function openIn(shown) {
  const ids = shown.links.map((link) => link.id);
  if (ids.includes(openLink.value)) return openLink.value;
  return wide.value ? worst(shown) : "";
}

/** @param {Chain} shown */
export function worst(shown) {
  const [verdict] = WORST_FIRST.filter((name) => shown.links.some((link) => link.verdict === name));
  return shown.links.find((link) => link.verdict === verdict)?.id ?? "";
}

/** @param {string} id */
export function toggle(id) {
  openLink.value = openLink.value === id && !wide.value ? "" : id;
}

/** Opens the link that has this field, and puts the cursor there. @param {string} address */
export function goToField(address) {
  const home = chain.value?.links.find((link) => link.fields.some((field) => field.address === address));
  if (home) openLink.value = home.id;
  else document.querySelector(".rig-fields")?.setAttribute("open", "");
  focusField(address);
}
