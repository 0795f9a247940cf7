// The room that a drawing has: margins, the two scales, and how high it is.
import { isEnvelope, numbered } from "./plot_key.js";
import { placeLabels } from "./plot_labels.js";
import { scaleOf } from "./plot_scale.js";

/**
 * @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("./plot_scale.js").Scale} Scale
 * @typedef {import("./plot_labels.js").Label} Label
 * @typedef {{plot: PlotShape, width: number, height: number, em: number, left: number, right: number, top: number, bottom: number,
 *   x: Scale, y: Scale, labels: Label[], envelope: boolean}} Frame
 */

/** A sweep is read as words, not as 0 and 1. @param {PlotShape} plot */
export const inWords = (plot) => plot.id === "sweep";

const BELOW = -0.4; // room for the words of the quiet windows under the marks

/** @param {PlotShape} plot @returns {[number[], number[]]} all x and all y that are drawn */
function extent(plot) {
  const points = plot.lines.flatMap((line) => line.points);
  const judged = plot.marks.filter((mark) => mark.verdict);
  const marks = (inWords(plot) && judged.length ? judged : plot.marks).map((mark) => [mark.x, mark.y]);
  const all = [...points, ...marks];
  const edges = points.length ? [] : plot.bands.flatMap((band) => [band.from, band.to]);
  return [[...all.map(([x]) => x), ...edges], [...all.map(([, y]) => y), ...plot.levels.map((level) => level.y), ...(inWords(plot) ? [BELOW] : [])]];
}

/** A sweep of one reading, or of a few, has air at both ends. @param {number[]} xs @param {PlotShape} plot */
function aired(xs, plot) {
  if (plot.lines.length) return xs;
  const [low, high] = [Math.min(...xs), Math.max(...xs)];
  const air = (high - low) * 0.06 || high * 0.1 || 1;
  return [Math.max(0, low - air), high + air];
}

/** @param {PlotShape} plot @param {number} width @param {number} em @returns {Frame} */
export function frameOf(plot, width, em) {
  const [xs, ys] = extent(plot);
  const left = (inWords(plot) ? 4.9 : 2.9) * em;
  const right = width - (numbered(plot) ? 1.9 : 0.9) * em;
  const x = scaleOf(plot.x, aired(xs, plot), { start: left, end: right, most: Math.max(2, Math.floor((right - left) / (3.2 * em))) });
  const labels = placeLabels(plot, x, { left, right, em });
  const rows = Math.max(-1, ...labels.map((label) => label.row)) + 1;
  const top = (rows ? rows * 1.45 + 0.4 : 0.6) * em;
  const bottom = top + Math.max(13 * em, Math.min(20 * em, width * 0.42));
  const y = scaleOf(plot.y, ys, { start: bottom, end: top, most: 6, zero: true });
  return { plot, width, height: bottom + 1.7 * em, em, left, right, top, bottom, x, y, labels, envelope: isEnvelope(plot) };
}
