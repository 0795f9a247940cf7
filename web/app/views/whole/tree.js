// The tree of the rig. A run that feeds one lamp and nothing else shares its row: sixty lamps are sixty rows.
import { signal } from "@preact/signals";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { PlaceActions } from "./actions.js";

/**
 * @typedef {import("../../state/whole.js").Node} Node
 * @typedef {{node: Node, run: Node | null, depth: number, fed: number}} Row
 */

const folded = signal(/** @type {Set<string>} */ (new Set()));
const chosen = signal("");

/** @param {{nodes: Node[]}} props */
export function RigTree({ nodes }) {
  const rows = rowsOf(nodes);
  return html`
    <section aria-label="The rig as a tree">
      <h2>The rig</h2>
      <ol class="tree">
        ${rows.map((row) => html`<li key=${row.node.id} style=${{ "--depth": row.depth }}><${TreeRow} row=${row} nodes=${nodes} /></li>`)}
      </ol>
    </section>
  `;
}

/** @param {Node[]} nodes @returns {Row[]} */
function rowsOf(nodes) {
  /** @type {Map<string, Node[]>} */
  const below = new Map();
  for (const node of nodes) below.set(node.parent, [...(below.get(node.parent) ?? []), node]);
  /** @type {Row[]} */
  const rows = [];
  /** @param {Node} node @param {number} depth */
  function visit(node, depth) {
    const fed = below.get(node.id) ?? [];
    if (node.kind === "run" && fed.length === 1 && fed[0].kind === "lamp") return rows.push({ node: fed[0], run: node, depth, fed: 0 });
    rows.push({ node, run: null, depth, fed: fed.length });
    if (!folded.value.has(node.id)) for (const child of fed) visit(child, depth + 1);
  }
  for (const root of below.get("") ?? []) visit(root, 0);
  return rows;
}

/** @param {{row: Row, nodes: Node[]}} props */
function TreeRow({ row, nodes }) {
  const { node, run } = row;
  const open = chosen.value === node.id;
  const carried = run && worse(run.carried, node.carried) ? run.carried : node.carried;
  return html`
    <div class="tree-row">
      ${row.fed > 0 ? html`<${Fold} node=${node} />` : html`<span class="tree-fold" aria-hidden="true"></span>`}
      <button type="button" class="tree-place place-${node.kind}" aria-expanded=${open} onClick=${() => (chosen.value = open ? "" : node.id)}>
        <${Shape} verdict=${carried} /><span class="hidden">${WORDS[carried]}: </span>
        <span class="tree-words">
          <span class="tree-title">${node.title}</span>
          <span class="tree-detail">${[node.line.replace("-N", ""), run ? run.detail : node.detail].filter(Boolean).join(" · ")}</span>
        </span>
        <span class="tree-figures"><${Small} term=${node.voltage} /><${Small} term=${run?.current ?? node.current} /></span>
      </button>
    </div>
    ${open && html`<${PlaceActions} node=${node} run=${run} nodes=${nodes} />`}
  `;
}

const ORDER = ["clear", "unknown", "tight", "stop"];
/** @param {string} a @param {string} b */
const worse = (a, b) => ORDER.indexOf(a) > ORDER.indexOf(b);

/** @param {{term: import("../../state/whole.js").Term | null}} props */
const Small = ({ term }) => term && html`<span class="number">${term.quantity.shown} ${term.quantity.shown_unit}</span>`;

/** @param {{node: Node}} props */
function Fold({ node }) {
  const shut = folded.value.has(node.id);
  /** A new set, so that the screen notices. */
  function toggle() {
    const next = new Set(folded.value);
    if (!next.delete(node.id)) next.add(node.id);
    folded.value = next;
  }
  return html`<button type="button" class="tree-fold icon-button ${shut ? "is-shut" : ""}" aria-expanded=${!shut} aria-label="What ${node.title} feeds" onClick=${toggle}><${Icon} name="down" /></button>`;
}
