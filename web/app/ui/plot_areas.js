// Stretches along a plot and limits across it. A limit is a hatched zone with its word.
import { html } from "./html.js";
import { figure } from "./plot_scale.js";

/** @typedef {import("./plot_frame.js").Frame} Frame */
/** @typedef {import("../state/shot_shapes.js").PlotBand} PlotBand */

/** @param {{frame: Frame, id: string}} props */
export const Bands = ({ frame, id }) =>
  frame.plot.bands.map((band) => (band.verdict ? html`<${Judged} frame=${frame} band=${band} id=${id} />` : html`<${Window} frame=${frame} band=${band} />`));

/** @param {Frame} frame @param {PlotBand} band @returns {[number, number]} left edge and width in pixels, within the plot */
function extent({ x, left, right }, band) {
  const from = Math.max(left, x.place(band.from));
  return [from, Math.max(0, Math.min(right, x.place(band.to)) - from)];
}

/** The shutter is open. @param {{frame: Frame, band: PlotBand}} props */
function Window({ frame, band }) {
  const [from, width] = extent(frame, band);
  const { top, bottom, em } = frame;
  if (width <= 0) return null;
  return html`
    <rect class="plot-window" x=${from} y=${top} width=${width} height=${bottom - top} />
    <path class="plot-window-edge" d="M${from} ${bottom}V${top}H${from + width}V${bottom}" />
    ${width > 3.2 * em && html`<text class="plot-window-word" x=${from + width / 2} y=${bottom - 0.5 * em} text-anchor="middle">open</text>`}
  `;
}

/** "Steady from 24 fps to 198 fps" is "Steady" where there is room for it. @param {{frame: Frame, band: PlotBand, id: string}} props */
function Judged({ frame, band, id }) {
  const [from, width] = extent(frame, band);
  const { top, bottom, em } = frame;
  const word = band.label.split(" from ")[0];
  return html`
    <rect class="plot-band plot-band-${band.verdict}" x=${from} y=${top} width=${width} height=${bottom - top} />
    <rect class="plot-strip plot-strip-${band.verdict}" x=${from} y=${bottom - 1.7 * em} width=${width} height=${1.7 * em} />
    ${band.verdict !== "clear" && html`<rect x=${from} y=${bottom - 1.7 * em} width=${width} height=${1.7 * em} fill="url(#${id}-wide)" />`}
    ${width > (word.length * 0.58 + 0.4) * em &&
    html`<text class="plot-word" x=${from + width / 2} y=${bottom - 0.5 * em} text-anchor="middle">${word}</text>`}
  `;
}

/** @param {Frame} frame @returns the limits, lowest first */
const levelsOf = ({ plot }) => [...plot.levels].sort((a, b) => a.y - b.y);

/** @param {{frame: Frame, id: string}} props */
export function Levels({ frame, id }) {
  const { y, left, right, top } = frame;
  const levels = levelsOf(frame);
  if (!levels.length) return null;
  const beyond = y.place(levels[levels.length - 1].y);
  return html`
    <rect x=${left} y=${top} width=${right - left} height=${Math.max(0, beyond - top)} fill="url(#${id}-wide)" />
    ${levels.map((level) => html`<path class="plot-level" d="M${left} ${y.place(level.y)}H${right}" />`)}
  `;
}

/** The words of the limits, over the lines: the highest above its line, the others below. @param {{frame: Frame}} props */
export function LevelWords({ frame }) {
  const { plot, y, left, em } = frame;
  const levels = levelsOf(frame);
  return levels.map((level, i) => {
    const at = y.place(level.y) + (i === levels.length - 1 ? -0.45 : 1.2) * em;
    return html`<text class="plot-word" x=${left + 0.5 * em} y=${at}>${level.label} ${figure(level.y)} ${plot.y.unit}</text>`;
  });
}
