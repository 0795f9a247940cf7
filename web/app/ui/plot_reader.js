// Reads values off a plot without touching it: a slider, and buttons for one point back and one on.
import { html } from "./html.js";
import { drawn, isEnvelope } from "./plot_key.js";
import { figure } from "./plot_scale.js";

/**
 * @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("../state/shot_shapes.js").PlotLine} PlotLine
 */

const LEAST = 0.1; // the core draws nothing below it on a logarithmic axis

/** The point of the line nearest to x. @param {PlotLine} line @param {number} x */
export function nearest(line, x) {
  let [from, to] = [0, line.points.length - 1];
  while (to - from > 1) {
    const middle = (from + to) >> 1;
    if (line.points[middle][0] <= x) from = middle;
    else to = middle;
  }
  return x - line.points[from][0] <= line.points[to][0] - x ? from : to;
}

/** Where the reader starts: at the mark asked for, else where the line is at its worst. @param {PlotShape} plot @param {string} mark */
export function startAt(plot, mark) {
  const [line] = plot.lines;
  if (!line) return 0;
  const wanted = plot.marks.find(({ label }) => label === mark);
  if (wanted) return nearest(line, wanted.x);
  const sign = plot.id === "waveform" ? -1 : 1; // of a waveform the dip is what matters
  return line.points.reduce((best, point, i) => (sign * point[1] > sign * line.points[best][1] ? i : best), 0);
}

/** "500 fps", or what the core itself calls the point. @param {PlotShape} plot @param {number} at */
export function wherePoint(plot, at) {
  const [line] = plot.lines;
  const x = `${figure(line.points[at][0])}\u00a0${plot.x.unit}`;
  return line.labels[at] ? `${x}, ${line.labels[at]}` : x;
}

/** Nothing below the end of a logarithmic axis is drawn. @param {PlotShape} plot @param {number} y */
export function valueWords(plot, y) {
  const least = plot.y.scale === "log" && y <= LEAST ? "at most " : "";
  return `${least}${figure(y)}${plot.y.unit && `\u00a0${plot.y.unit}`}`;
}

/** @param {PlotShape} plot @param {number} at */
function values(plot, at) {
  const x = plot.lines[0].points[at][0];
  const found = drawn(plot).map((line) => ({ name: line.name, value: valueWords(plot, line.points[nearest(line, x)][1]) }));
  return found.length === 1 || (!isEnvelope(plot) && found.every(({ value }) => value === found[0].value)) ? [{ ...found[0], name: "" }] : found;
}

/** @param {PlotShape} plot @param {number} at */
function bandsAt(plot, at) {
  const x = plot.lines[0].points[at][0];
  return plot.bands.filter((band) => band.from <= x && x <= band.to).map((band) => band.label);
}

/** @param {{plot: PlotShape, at: number, last: number, read: (index: number) => void}} props */
export function Reader({ plot, at, last, read }) {
  const where = wherePoint(plot, at);
  const found = values(plot, at);
  const inside = bandsAt(plot, at);
  const words = [...found.map(({ name, value }) => [name, value].filter(Boolean).join(" ")), ...inside].join(", ");
  return html`
    <div class="plot-reader" role="group" aria-label="Read values off: ${plot.title}">
      <button type="button" class="button" aria-label="One point back" disabled=${at <= 0} onClick=${() => read(at - 1)}>−</button>
      <input
        type="range" min="0" max=${last} value=${at} aria-label=${plot.x.label} aria-valuetext="${where}: ${words}"
        onInput=${(/** @type {Event} */ event) => read(Number(/** @type {HTMLInputElement} */ (event.currentTarget).value))}
      />
      <button type="button" class="button" aria-label="One point on" disabled=${at >= last} onClick=${() => read(at + 1)}>+</button>
      <p class="plot-reading">
        <span>${where}:</span>
        ${found.map(({ name, value }) => html`<span>${name && `${name} `}<strong class="number">${value}</strong></span>`)}
        ${inside.map((label) => html`<span>${label}</span>`)}
      </p>
    </div>
  `;
}
