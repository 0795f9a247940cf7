import { choose, record } from "../../state/rig.js";
import { go } from "../../state/screen.js";
import { fieldId } from "../../ui/field_text.js";

/** @typedef {import("../../state/shapes.js").Verdict} Verdict */
/** @typedef {import("../../state/shot_shapes.js").Row} Row */

/** What a shot is called: its name, else what is done. @param {{id: string, name: string, text: string}} shot */
export const shotName = ({ id, name, text }) => name || text || id;

/** @param {string} text */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @type {Verdict[]} */
export const WORST_FIRST = ["stop", "unknown", "tight", "clear"];

/** The worst shot of the list, the first of equals. @param {Row[]} rows */
export const worstShot = (rows) => WORST_FIRST.flatMap((verdict) => rows.filter((row) => row.verdict === verdict))[0];

/** Puts the cursor into a field of this screen; one of a lamp that is not here is found on the rig's. @param {string} address */
export function goTo(address) {
  const field = document.getElementById(fieldId(address));
  if (field) return open(field);
  const [part, id] = address.split("/");
  if (part === "loads" && record.value?.answers?.check.lamps.some((lamp) => lamp.id === id)) choose({ load: id });
  if (part !== "shots") go("rig");
}

/** @param {HTMLElement} field */
function open(field) {
  for (let fold = field.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) fold.open = true;
  requestAnimationFrame(() => field.focus());
}
