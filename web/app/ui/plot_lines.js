import { html } from "./html.js";
import { drawn, numbered } from "./plot_key.js";
import { Marker } from "./plot_marker.js";

/** @typedef {import("./plot_frame.js").Frame} Frame */
/** @typedef {[number, number]} Point */

/** @param {Frame} frame @param {Point[]} points */
const path = ({ x, y }, points) => points.map(([a, b], i) => `${i ? "L" : "M"}${x.place(a).toFixed(1)} ${y.place(b).toFixed(1)}`).join("");

/** @param {{frame: Frame}} props */
export function Lines({ frame }) {
  const lines = drawn(frame.plot);
  if (frame.envelope) return html`<${Envelope} frame=${frame} />`;
  return html`
    ${lines.map((line, i) => html`<path class="plot-line plot-line-${i}" d=${path(frame, line.points)} />`).reverse()}
    ${numbered(frame.plot) && html`<${Strung} frame=${frame} /><${Ends} frame=${frame} />`}
  `;
}

/** Light that pulses too fast to be drawn as one line. @param {{frame: Frame}} props */
function Envelope({ frame }) {
  const [upper, lower] = frame.plot.lines;
  const around = `${path(frame, upper.points)}L${path(frame, [...lower.points].reverse()).slice(1)}Z`;
  return html`<path class="plot-envelope" d=${around} />`;
}

const STRUNG = 4; // shapes along a line

/** Each line's shape at even places along it, no two lines' at the same. @param {{frame: Frame}} props */
function Strung({ frame }) {
  const { plot, x, y, left, right, em } = frame;
  const lines = drawn(plot);
  return lines.flatMap((line, i) =>
    Array.from({ length: STRUNG }, (_, k) => {
      const px = left + ((k + (i + 0.5) / lines.length) / STRUNG) * (right - left);
      const [a, b] = line.points[nearestAt(line.points, x, px)];
      return html`<${Marker} line=${i} x=${x.place(a)} y=${y.place(b)} size=${0.36 * em} />`;
    }),
  );
}

/** The point drawn nearest to a pixel. @param {Point[]} points @param {Frame["x"]} x @param {number} px */
function nearestAt(points, x, px) {
  let best = 0;
  points.forEach(([a], i) => Math.abs(x.place(a) - px) < Math.abs(x.place(points[best][0]) - px) && (best = i));
  return best;
}

/** Each line's number at its right end; numbers that would overlap move apart, and none leaves the drawing. @param {{frame: Frame}} props */
function Ends({ frame }) {
  const { plot, x, y, em, bottom } = frame;
  const ends = drawn(plot).map((line, i) => {
    const [a, b] = line.points[line.points.length - 1];
    return { i, x: x.place(a), y: y.place(b) };
  });
  const falling = [...ends].sort((a, b) => a.y - b.y);
  let low = -Infinity;
  for (const end of falling) low = end.y = Math.max(end.y, low + 1.1 * em);
  let high = bottom + 1.1 * em;
  for (const end of falling.reverse()) high = end.y = Math.min(end.y, high - 1.1 * em);
  return ends.map((end) => html`<text class="plot-number" x=${end.x + 0.5 * em} y=${end.y + 0.35 * em}>${end.i + 1}</text>`);
}
