import { wide } from "../../state/screen.js";
import { adviceBehind, behind } from "../../state/shown.js";
import { Bar, Shape, VerdictTag } from "../../ui/verdict.js";
import { html } from "../../ui/html.js";
import { Cautions, Remedies } from "../../ui/lists.js";
import { Ribbon } from "../../ui/ribbon.js";
import { tied } from "../../ui/term.js";
import { openIn, toggle } from "./open_link.js";
import { LinkPanel } from "./panel.js";

/**
 * @typedef {import("../../state/shapes.js").Chain} ChainShape
 * @typedef {import("../../state/shown.js").ShownLink} ShownLink
 */

/** @param {{chain: Omit<ChainShape, "links"> & {links: ShownLink[]}}} props */
export function Chain({ chain }) {
  const open = openIn(chain);
  const link = chain.links.find(({ id }) => id === open);
  return html`
    <div class="split ${behind.value ? "behind" : ""}">
      <div class="chain">
        <${Ribbon} links=${chain.links} />
        <ol aria-label="Chain from supply to shutter">
          ${chain.links.map((each) => html`<${LinkRow} key=${each.id} link=${each} load=${chain.load} open=${each.id === open} />`)}
        </ol>
      </div>
      ${wide.value && link && html`<div class="side" key=${link.id}><${LinkPanel} link=${link} load=${chain.load} name=${chain.name} /></div>`}
    </div>
  `;
}

/** @param {{link: ShownLink, load: string, open: boolean}} props */
function LinkRow({ link, load, open }) {
  return html`
    <li class="link link-${link.verdict} ${open ? "is-open" : ""}">
      <button type="button" class="link-head" aria-expanded=${open} aria-controls="panel-${link.id}" onClick=${() => toggle(link.id)}>
        <span class="link-line">
          <span class="link-title">${link.title}</span>
          <${VerdictTag} verdict=${link.verdict} note=${link.verdict_note} />
        </span>
        <${Figure} link=${link} />
        <span class="link-detail">${tied(link.detail)}</span>
        <${Estimates} estimates=${link.estimates} />
        ${link.bar && html`<${Bar} ...${link.bar} verdict=${link.verdict} />`}
      </button>
      <${Remedies} remedies=${link.remedies.slice(0, MOST_ADVICE)} earlier=${adviceBehind.value} />
      ${link.remedies.length > 0 && html`<${Cautions} cautions=${cautionsOf(link)} />`}
      ${open && !wide.value && html`<${LinkPanel} link=${link} load=${load} name="" />`}
    </li>
  `;
}

/** A row shows what helps most; each answer inside has all of its own. */
const MOST_ADVICE = 3;
const MOST_CAUTIONS = 2;

/** What to mind where a decision is due: the cautions of the answers that gave the verdict. @param {ShownLink} link */
const cautionsOf = (link) => [...new Set(link.findings.filter(({ verdict }) => verdict === link.verdict).flatMap(({ cautions }) => cautions))].slice(0, MOST_CAUTIONS);

/** "typical efficiency", "typical power factor" become one chip for each word. @param {{estimates: string[]}} props */
function Estimates({ estimates }) {
  const words = [...new Set(estimates.map((text) => text.split(" ", 1)[0]))];
  return words.map((word) => {
    const names = estimates.filter((text) => text.startsWith(`${word} `)).map((text) => text.slice(word.length + 1));
    return html`<span class="chip estimate link-estimate">${word} ${names.join(", ")}</span>`;
  });
}

/** The one number that matters here, read as one phrase with its caption. @param {{link: ShownLink}} props */
function Figure({ link }) {
  const { figure, caption, previous } = link;
  return html`
    <span class="link-figure ${previous ? "previous" : ""}" data-node>
      ${link.verdict !== "clear" && html`<span class="bead" aria-hidden="true"><${Shape} verdict=${link.verdict} /></span>`}
      ${figure && html`<span class="figure">${figure.quantity.shown}</span>${" "}`}
      <span class="caption">${figure ? figure.quantity.shown_unit : ""} ${tied(caption) || (figure ? "" : "No figure yet")}</span>
      ${previous && html` <span class="chip estimate">for the previous value</span>`}
    </span>
  `;
}
