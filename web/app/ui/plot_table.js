// All numbers of a plot, made only once someone opens them.
import { useSignal } from "@preact/signals";
import { html } from "./html.js";
import { figure } from "./plot_scale.js";
import { valueWords } from "./plot_reader.js";
import { WORDS } from "./verdict.js";

/**
 * @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("../state/shot_shapes.js").PlotLine} PlotLine
 */

/** @param {{plot: PlotShape}} props */
export function Numbers({ plot }) {
  const open = useSignal(false);
  /** @param {Event} event */
  const toggled = (event) => (open.value = /** @type {HTMLDetailsElement} */ (event.currentTarget).open);
  return html`
    <details class="plot-numbers" onToggle=${toggled}>
      <summary>Show the numbers<span class="hidden">: ${plot.title}</span></summary>
      ${open.value && html`<div class="plot-tables" tabindex="0" role="group" aria-label="Numbers of: ${plot.title}"><${Tables} plot=${plot} /></div>`}
    </details>
  `;
}

/** @param {{plot: PlotShape}} props */
const Tables = ({ plot }) => html`
  ${plot.marks.length > 0 && html`<${Marks} plot=${plot} />`}
  ${plot.bands.length > 0 && html`<${Bands} plot=${plot} />`}
  ${plot.lines.map((line) => html`<${LineTable} plot=${plot} line=${line} />`)}
`;

/** @param {PlotShape} plot @param {number} x */
const xWords = (plot, x) => `${figure(x)}\u00a0${plot.x.unit}`;

/** @param {{plot: PlotShape}} props */
const Marks = ({ plot }) => html`
  <table>
    <caption>Marked</caption>
    <thead><tr><th scope="col">What</th><th scope="col">${plot.x.label}</th><th scope="col">${plot.y.label}</th></tr></thead>
    <tbody>
      ${plot.marks.map(
        (mark) => html`<tr>
          <th scope="row">${mark.label}${mark.verdict && `: ${WORDS[mark.verdict].toLowerCase()}`}</th>
          <td class="number">${xWords(plot, mark.x)}</td><td class="number">${valueWords(plot, mark.y)}</td>
        </tr>`,
      )}
    </tbody>
  </table>
`;

/** @param {{plot: PlotShape}} props */
const Bands = ({ plot }) => html`
  <table>
    <caption>Stretches</caption>
    <thead><tr><th scope="col">What</th><th scope="col">From</th><th scope="col">To</th></tr></thead>
    <tbody>
      ${plot.bands.map(
        (band) => html`<tr><th scope="row">${band.label}</th><td class="number">${xWords(plot, band.from)}</td><td class="number">${xWords(plot, band.to)}</td></tr>`,
      )}
    </tbody>
  </table>
`;

/** @param {{plot: PlotShape, line: PlotLine}} props */
const LineTable = ({ plot, line }) => html`
  <table>
    <caption>${line.name}</caption>
    <thead><tr><th scope="col">${plot.x.label}</th><th scope="col">${plot.y.label}</th></tr></thead>
    <tbody>
      ${line.points.map(
        ([x, y], i) => html`<tr>
          <th scope="row" class="number">${xWords(plot, x)}${line.labels[i] ? `, ${line.labels[i]}` : ""}</th><td class="number">${valueWords(plot, y)}</td>
        </tr>`,
      )}
    </tbody>
  </table>
`;
