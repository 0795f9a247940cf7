// What can be done with one place of the tree.
import { choose, record } from "../../state/rig.js";
import { removeLamp } from "../../state/rigs.js";
import { go } from "../../state/screen.js";
import { addBox, duplicateLamp, movePart, plugTo, removePart } from "../../state/whole.js";
import { html } from "../../ui/html.js";
import { openLink } from "../rig/open_link.js";
import { MeterHere } from "./meter_here.js";

/** @typedef {import("../../state/whole.js").Node} Node */

const LINES = { "three-phase": ["L1-N", "L2-N", "L3-N", "L1-L2", "L2-L3", "L3-L1"], split: ["L1-N", "L2-N", "L1-L2"], single: ["L1-N"] };

/** @param {{node: Node, run: Node | null, nodes: Node[]}} props */
export function PlaceActions({ node, run, nodes }) {
  return html`
    <div class="place-actions" role="group" aria-label="${node.title}, what to do">
      ${node.says && html`<p>${node.says}.</p>`}
      ${node.kind === "lamp" ? html`<${LampActions} node=${node} />` : html`<${OtherActions} node=${node} nodes=${nodes} />`}
      <${MeterHere} key=${(run ?? node).id} place=${(run ?? node).id} />
      ${node.kind !== "supply" && html`<${FeedFrom} node=${node} run=${run} nodes=${nodes} />`}
    </div>
  `;
}

/** @param {{node: Node}} props */
function LampActions({ node }) {
  return html`
    <button type="button" class="button main" onClick=${() => (choose({ load: node.id }), (openLink.value = ""), go("rig"))}>Open its chain</button>
    <${PlugTo} node=${node} />
    <div class="button-row">
      <button type="button" class="button" onClick=${() => duplicateLamp(node.id, node.title)}>Duplicate</button>
      <button type="button" class="button" onClick=${() => removeLamp(node.id, node.title)}>Remove</button>
    </div>
  `;
}

/** @param {{node: Node, nodes: Node[]}} props */
function OtherActions({ node, nodes }) {
  const lamp = lampBelow(node, nodes);
  /** A run is edited on the chain of a lamp that it feeds. */
  function openFields() {
    if (lamp) choose({ load: lamp.id });
    openLink.value = node.kind === "supply" ? "supply" : node.id;
    go("rig");
  }
  return html`
    ${node.kind !== "box" && lamp && html`<button type="button" class="button main" onClick=${openFields}>Open its fields and working</button>`}
    <div class="button-row">
      <button type="button" class="button" onClick=${() => addBox(node.id)}>Add a box here</button>
      ${node.kind !== "supply" && html`<button type="button" class="button" onClick=${() => removePart(node.id, node.title)}>Remove, keep what it feeds</button>`}
    </div>
  `;
}

/** @param {Node} node @param {Node[]} nodes */
function lampBelow(node, nodes) {
  const above = new Map(nodes.map((n) => [n.id, n.parent]));
  return nodes.find((n) => {
    if (n.kind !== "lamp") return false;
    for (let at = n.id; at; at = above.get(at) ?? "") if (at === node.id) return true;
    return false;
  });
}

/** @param {{node: Node}} props */
function PlugTo({ node }) {
  const lines = LINES[systemOf()];
  if (lines.length < 2) return null;
  return html`
    <label class="act-select">Plugged to
      <select onChange=${(/** @type {Event} */ e) => plugTo(node.id, chosenIn(e), node.title)}>
        ${lines.map((line) => html`<option value=${line} selected=${line === node.line}>${line.replace("-N", " to neutral").replace("-", " to ")}</option>`)}
      </select>
    </label>
  `;
}

/** @returns {keyof typeof LINES} which lines this supply has */
function systemOf() {
  const system = String(/** @type {any} */ (record.value?.rig)?.supply?.system ?? "single-phase");
  return system.startsWith("three") ? "three-phase" : system.startsWith("split") ? "split" : "single";
}

/** @param {{node: Node, run: Node | null, nodes: Node[]}} props */
function FeedFrom({ node, run, nodes }) {
  const feeder = (run ?? node).parent;
  const places = nodes.filter((n) => n.kind !== "lamp" && n.id !== node.id && n.id !== run?.id && (n.kind !== "run" || n.id === feeder));
  return html`
    <label class="act-select">Fed from
      <select onChange=${(/** @type {Event} */ e) => movePart(node.id, chosenIn(e), node.title)}>
        ${places.map((place) => html`<option value=${place.id} selected=${place.id === feeder}>${place.title}</option>`)}
      </select>
    </label>
  `;
}

/** @param {Event} event */
const chosenIn = (event) => /** @type {HTMLSelectElement} */ (event.currentTarget).value;
