import { html } from "../../ui/html.js";
import { Ribbon } from "../../ui/ribbon.js";
import { Origin } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";

/**
 * @typedef {import("../../state/shapes.js").Chain} Chain
 * @typedef {import("../../state/shapes.js").Link} Link
 * @typedef {import("../../state/shapes.js").Field} Field
 */

/** The drill's rig as facts; its figures and its ribbon only once all is answered. @param {{chain: Chain, revealed: boolean}} props */
export const Facts = ({ chain, revealed }) => html`
  <section class="facts" aria-label="The rig">
    <h2>The rig</h2>
    <div class=${revealed ? "chain" : ""}>
      ${revealed && html`<${Ribbon} links=${chain.links} />`}
      <ol>${chain.links.map((link) => html`<li class="link" key=${link.id}><${LinkFacts} link=${link} revealed=${revealed} /></li>`)}</ol>
    </div>
  </section>
`;

/** @param {{link: Link, revealed: boolean}} props */
const LinkFacts = ({ link, revealed }) => html`
  <div class="link-line"><h3>${link.title}</h3>${revealed && html`<${VerdictTag} verdict=${link.verdict} note=${link.verdict_note} />`}</div>
  ${revealed && link.figure
    ? html`<p class="link-figure" data-node><span class="figure">${link.figure.quantity.shown}</span> <span class="caption">${link.figure.quantity.shown_unit} ${link.caption}</span></p>`
    : html`<span data-node></span>`}
  <dl class="fact-list">${link.fields.filter(told).map((field) => html`<div><dt>${field.label}</dt><dd><${Value} field=${field} /></dd></div>`)}</dl>
`;

/** A rare field that the drill says nothing about is no fact of it. @param {Field} field */
const told = (field) => field.kind !== "text" && (field.text !== "" || (field.typical !== null && !field.more));

/** @param {{field: Field}} props */
function Value({ field }) {
  const option = field.options.find(({ value }) => value === field.text);
  if (field.text) return option?.label ?? field.text;
  return field.typical && html`<${Origin} origin=${field.typical.origin}> ${field.typical.text}<//>`;
}
