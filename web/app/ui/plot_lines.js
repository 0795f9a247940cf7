import { html } from "./html.js";
import { numbered } from "./plot_key.js";

/** @typedef {import("./plot_frame.js").Frame} Frame */
/** @typedef {[number, number]} Point */

/** @param {Frame} frame @param {Point[]} points */
const path = ({ x, y }, points) => points.map(([a, b], i) => `${i ? "L" : "M"}${x.place(a).toFixed(1)} ${y.place(b).toFixed(1)}`).join("");

/** @param {{frame: Frame}} props */
export function Lines({ frame }) {
  const lines = frame.plot.lines.slice(0, 4);
  if (frame.envelope) return html`<${Envelope} frame=${frame} />`;
  return html`
    ${lines.map((line, i) => html`<path class="plot-line plot-line-${i}" d=${path(frame, line.points)} />`).reverse()}
    ${numbered(frame.plot) && html`<${Ends} frame=${frame} />`}
  `;
}

/** Light that pulses too fast to be drawn as one line. @param {{frame: Frame}} props */
function Envelope({ frame }) {
  const [upper, lower] = frame.plot.lines;
  const around = `${path(frame, upper.points)}L${path(frame, [...lower.points].reverse()).slice(1)}Z`;
  return html`<path class="plot-envelope" d=${around} />`;
}

/** Each line's number at its right end; numbers that would overlap move apart. @param {{frame: Frame}} props */
function Ends({ frame }) {
  const { plot, x, y, em } = frame;
  const ends = plot.lines.slice(0, 4).map((line, i) => {
    const [a, b] = line.points[line.points.length - 1];
    return { i, x: x.place(a), y: y.place(b) };
  });
  let low = -Infinity;
  for (const end of [...ends].sort((a, b) => a.y - b.y)) low = end.y = Math.max(end.y, low + 1.1 * em);
  return ends.map((end) => html`<text class="plot-number" x=${end.x + 0.5 * em} y=${end.y + 0.35 * em}>${end.i + 1}</text>`);
}
