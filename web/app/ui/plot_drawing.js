// The drawing itself: axes, stretches, limits, lines, marks and the reader's cursor.
import { html } from "./html.js";
import { Bands, Levels, LevelWords } from "./plot_areas.js";
import { frameOf, inWords } from "./plot_frame.js";
import { Marks } from "./plot_marks.js";
import { Lines } from "./plot_lines.js";
import { drawn } from "./plot_key.js";
import { nearest } from "./plot_reader.js";
import { figure } from "./plot_scale.js";

/**
 * @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("./plot_frame.js").Frame} Frame
 */

/** @param {{plot: PlotShape, id: string, width: number, em: number, at: number, read: (index: number) => void}} props */
export function Drawing({ plot, id, width, em, at, read }) {
  const frame = frameOf(plot, width, em);
  /** @param {PointerEvent} event */
  const touch = (event) => {
    if (at < 0 || (event.type === "pointermove" && !event.buttons)) return;
    const box = /** @type {SVGSVGElement} */ (event.currentTarget).getBoundingClientRect();
    read(indexAt(frame, ((event.clientX - box.left) / box.width) * frame.width));
  };
  return html`
    <svg
      class="plot-drawing" role="img" aria-labelledby="${id}-title ${id}-desc" viewBox="0 0 ${frame.width} ${frame.height}"
      onPointerDown=${touch} onPointerMove=${touch}
    >
      <title id="${id}-title">${plot.title}</title>
      <desc id="${id}-desc">${described(plot)}</desc>
      <g aria-hidden="true">
        <${Hatches} id=${id} />
        <${Bands} frame=${frame} id=${id} />
        <${Axes} frame=${frame} />
        <${Levels} frame=${frame} id=${id} />
        <${Lines} frame=${frame} />
        <${LevelWords} frame=${frame} />
        <${Marks} frame=${frame} />
        ${at >= 0 && html`<${Cursor} frame=${frame} at=${at} />`}
      </g>
    </svg>
  `;
}

/** @param {PlotShape} plot */
function described(plot) {
  const limits = plot.levels.map(({ label, y }) => `${label} ${figure(y)}\u00a0${plot.y.unit}`).join(", ");
  return [plot.says, limits && `Limits: ${limits}`, "The numbers are in the table below."].filter(Boolean).join(". ");
}

/** @param {Frame} frame @param {number} px */
function indexAt({ plot, x, left, right }, px) {
  const share = (Math.max(left, Math.min(right, px)) - left) / (right - left);
  const value = plot.x.scale === "log" ? x.from * (x.to / x.from) ** share : x.from + share * (x.to - x.from);
  return nearest(plot.lines[0], value);
}

/** Two hatchings, told apart on paper and in the sun. @param {{id: string}} props */
const Hatches = ({ id }) => html`
  <defs>
    <pattern id="${id}-wide" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="plot-hatch" d="M0 0V9" /></pattern>
    <pattern id="${id}-tight" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="plot-hatch" d="M0 0V5" /></pattern>
  </defs>
`;

/** @param {{frame: Frame}} props */
function Axes({ frame: { plot, x, y, left, right, top, bottom, em } }) {
  const yTicks = inWords(plot) ? [0, 1] : y.ticks;
  const yWords = (/** @type {number} */ tick) => (inWords(plot) ? ["quiet", "disturbed"][tick] : figure(tick));
  return html`
    ${yTicks.map((tick) => {
      const at = y.place(tick);
      return html`<path class="plot-grid" d="M${left} ${at}H${right}" /><text x=${left - 0.4 * em} y=${at + 0.33 * em} text-anchor="end">${yWords(tick)}</text>`;
    })}
    ${x.ticks.map((tick) => {
      const at = x.place(tick);
      return html`<path class="plot-grid" d="M${at} ${bottom}v${0.4 * em}" /><text x=${at} y=${bottom + 1.4 * em} text-anchor="middle">${figure(tick)}</text>`;
    })}
    <path class="plot-axis-line" d="M${left} ${top}V${bottom}H${right}" />
  `;
}

/** @param {{frame: Frame, at: number}} props */
function Cursor({ frame: { plot, x, y, top, bottom }, at }) {
  const value = plot.lines[0].points[at][0];
  const px = x.place(value);
  return html`
    <path class="plot-cursor" d="M${px} ${top}V${bottom}" />
    ${drawn(plot).map((line) => html`<circle class="plot-dot" cx=${px} cy=${y.place(line.points[nearest(line, value)][1])} r="5" />`)}
  `;
}
