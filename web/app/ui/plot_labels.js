// The words above a drawing: names of marks, what each frame gets. They stand in at most three rows and never overlap.
/**
 * @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("./plot_scale.js").Scale} Scale
 * @typedef {{text: string, at: number, x: number, row: number, anchor: "start" | "middle" | "end"}} Label
 */

const ROWS = 3;
const LONGEST = 18;
const LETTER = 0.56; // of the size of the letters; about the mean of this typeface

/** @param {string} text */
const cut = (text) => (text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text);

/** "Frame 2: 95.7 % of the mean" is "95.7 %" above its window. @param {string} label */
const share = (label) => label.split(": ").slice(-1)[0].replace(/ of the mean$/, "");

/** @param {PlotShape} plot @returns {{text: string, at: number}[]} */
function wanted(plot) {
  const windows = plot.bands.filter((band) => !band.verdict).map((band) => ({ text: share(band.label), at: (band.from + band.to) / 2 }));
  const marks = plot.marks.filter((mark) => plot.id !== "sweep" || !mark.verdict).map((mark) => ({ text: cut(mark.label), at: mark.x }));
  return [...windows, ...marks].sort((a, b) => a.at - b.at);
}

/**
 * What finds no room is left out: the reader and the table have it.
 * @param {PlotShape} plot @param {Scale} x @param {{left: number, right: number, em: number}} room
 * @returns {Label[]}
 */
export function placeLabels(plot, x, { left, right, em }) {
  const free = Array(plot.bands.some((band) => !band.verdict) ? 1 : ROWS).fill(-Infinity);
  /** @type {Label[]} */
  const placed = [];
  for (const { text, at } of wanted(plot)) {
    const width = text.length * LETTER * em;
    const middle = x.place(at);
    if (middle < left - 1 || middle > right + 1) continue;
    const start = Math.max(left - 2 * em, Math.min(right + 0.8 * em - width, middle - width / 2));
    const row = free.findIndex((end) => end <= start);
    if (row < 0) continue;
    free[row] = start + width + 0.6 * em;
    placed.push({ text, at: middle, x: start + width / 2, row, anchor: "middle" });
  }
  return placed;
}
