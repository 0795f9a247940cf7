// Which line is which: each has its own dashes, a shape strung along it and a number at its end; the key repeats all with the name.
import { html } from "./html.js";
import { Marker } from "./plot_marker.js";

/** @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape */

/** Lines that lie on one another are one line with all their names. @param {PlotShape} plot @returns {PlotShape} */
export function merged(plot) {
  /** @type {Map<string, PlotShape["lines"][number]>} */
  const found = new Map();
  for (const line of plot.lines) {
    const same = JSON.stringify(line.points);
    const before = found.get(same);
    found.set(same, before ? { ...before, name: `${before.name}; ${line.name}` } : line);
  }
  return { ...plot, lines: [...found.values()] };
}

/** The light of a plot drawn as its upper and lower edge is one thing, not two lines. @param {PlotShape} plot */
export const isEnvelope = (plot) => plot.id === "waveform" && plot.lines.length === 2;

/** @param {PlotShape} plot */
export const numbered = (plot) => plot.lines.length > 1 && !isEnvelope(plot);

export const MOST_LINES = 8; // told apart in the sun and on paper; what is more stands in the table

/** The lines that are drawn. @param {PlotShape} plot */
export const drawn = (plot) => plot.lines.slice(0, MOST_LINES);

const WINDOWS = html`
  <p class="plot-key">
    <svg class="plot-sample" width="22" height="18" aria-hidden="true" focusable="false"><rect class="plot-sample-window" x="1" y="1" width="20" height="16" /></svg>
    <span>The shutter is open; above it what the frame gets, of the mean.</span>
  </p>
`;

/** @param {PlotShape} plot */
export function keyOf(plot) {
  if (plot.bands.some((band) => !band.verdict)) return WINDOWS;
  if (!numbered(plot)) return null;
  const shown = drawn(plot);
  return html`
    <ol class="plot-key">
      ${shown.map(
        (line, i) => html`
          <li>
            <svg class="plot-sample" width="40" height="14" aria-hidden="true" focusable="false">
              <path class="plot-line plot-line-${i}" d="M0 7H40" /><${Marker} line=${i} x=${20} y=${7} size=${5} />
            </svg>
            <span><strong>${i + 1}</strong> ${line.name}</span>
          </li>
        `,
      )}
    </ol>
    ${plot.lines.length > shown.length && html`<p class="note">${plot.lines.length - shown.length} more are in the table of numbers.</p>`}
  `;
}
