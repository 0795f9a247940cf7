// A plot: what it shows in one sentence, the drawing, a value reader, and all its numbers as a table.
import { useSignal } from "@preact/signals";
import { useId, useLayoutEffect, useMemo, useRef } from "preact/hooks";
import { html } from "./html.js";
import { Drawing } from "./plot_drawing.js";
import { inWords } from "./plot_frame.js";
import { keyOf, merged } from "./plot_key.js";
import { Reader, startAt } from "./plot_reader.js";
import { Numbers } from "./plot_table.js";
import { sentence, tied } from "./term.js";
import { Shape } from "./verdict.js";

/** @typedef {import("../state/shot_shapes.js").PlotShape} PlotShape */
/** @typedef {import("../state/shot_shapes.js").Axis} Axis */

/** @param {Axis} axis */
export const axisWords = ({ label, unit }) => (unit ? `${label}, ${unit}` : label);

/** @param {{plot: PlotShape, mark?: string, stale?: boolean}} props mark: label of the mark that the reader starts at */
export function Plot({ plot: given, mark = "", stale = false }) {
  const plot = useMemo(() => merged(given), [given]);
  const id = useId();
  const [box, size] = useSize();
  const reading = useSignal(/** @type {number | null} */ (null));
  const line = plot.lines[0];
  const last = (line?.points.length ?? 1) - 1;
  const at = Math.min(last, reading.value ?? startAt(plot, mark));
  const read = (/** @type {number} */ index) => (reading.value = Math.max(0, Math.min(last, index)));
  return html`
    <figure class=${stale ? "plot behind" : "plot"}>
      <figcaption><h3>${plot.title}</h3><p>${tied(sentence(plot.says))}</p></figcaption>
      ${!inWords(plot) && html`<p class="plot-axis">${axisWords(plot.y)}</p>`}
      <div class="plot-place" ref=${box}>
        ${size.width > 0 && html`<${Drawing} plot=${plot} id=${id} width=${size.width} em=${size.em} at=${line ? at : -1} read=${read} />`}
      </div>
      <p class="plot-axis plot-axis-x">${axisWords(plot.x)}</p>
      ${keyOf(plot)}
      <${SteadyParts} plot=${plot} />
      ${line && last > 0 && html`<${Reader} plot=${plot} at=${at} last=${last} read=${read} />`}
      <${Numbers} plot=${plot} />
    </figure>
  `;
}

/** The good stretches of a ramp in words: they may be too short to be written into the drawing. @param {{plot: PlotShape}} props */
function SteadyParts({ plot }) {
  const good = plot.id === "ramp" ? plot.bands.filter((band) => band.verdict === "clear") : [];
  return good.length > 0 && html`<ul class="plot-parts">${good.slice(0, 6).map((band) => html`<li><${Shape} verdict="clear" /><span>${tied(band.label)}</span></li>`)}</ul>`;
}

/** The width that a plot has, and the size of its letters. */
function useSize() {
  const box = useRef(/** @type {HTMLDivElement | null} */ (null));
  const size = useSignal({ width: 0, em: 14 });
  useLayoutEffect(() => {
    const place = box.current;
    if (!place) return;
    const measure = () => (size.value = { width: Math.floor(place.clientWidth), em: parseFloat(getComputedStyle(place).fontSize) });
    const observer = new ResizeObserver(measure);
    observer.observe(place);
    measure();
    return () => observer.disconnect();
  }, []);
  return /** @type {const} */ ([box, size.value]);
}
