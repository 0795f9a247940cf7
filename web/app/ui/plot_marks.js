// Points that matter by themselves: today's shots, the worst instant, what was seen. Shape first, colour repeats it.
import { html } from "./html.js";

/**
 * @typedef {import("./plot_frame.js").Frame} Frame
 * @typedef {import("../state/shot_shapes.js").PlotMark} PlotMark
 */

/** Paths about the middle, one unit being half a shape. @type {Record<PlotMark["verdict"], string>} */
const PATHS = {
  clear: "M-1 0A1 1 0 1 1 1 0A1 1 0 1 1-1 0Z",
  tight: "M0-1.1 1.15 0.95H-1.15Z",
  stop: "M-0.95-0.95H0.95V0.95H-0.95Z",
  unknown: "M0-1.2 1.2 0 0 1.2-1.2 0Z",
  "": "M-0.7 0A0.7 0.7 0 1 1 0.7 0A0.7 0.7 0 1 1-0.7 0Z",
};

/** @param {{frame: Frame}} props */
export function Marks({ frame }) {
  const { plot, x, y, bottom, top, left, right, em, labels } = frame;
  const stems = !plot.lines.length && plot.marks.every((mark) => !mark.verdict);
  return html`
    ${labels.map(
      (label) => html`
        ${plot.bands.every((band) => band.verdict) && html`<path class="plot-leader" d="M${label.at} ${label.row * 1.45 * em + 1.5 * em}V${bottom}" />`}
        <text x=${label.x} y=${label.row * 1.45 * em + 1.1 * em} text-anchor=${label.anchor}>${label.text}</text>
      `,
    )}
    ${plot.marks.map((mark) => {
      const [px, py] = [x.place(mark.x), Math.max(top, y.place(mark.y))];
      if (px < left - 1 || px > right + 1) return null;
      return html`
        ${stems && html`<path class="plot-stem" d="M${px} ${bottom}V${py}" />`}
        <path class="plot-mark plot-mark-${mark.verdict || "plain"}" d=${PATHS[mark.verdict]} transform="translate(${px} ${py}) scale(${0.5 * em})" />
      `;
    })}
  `;
}
