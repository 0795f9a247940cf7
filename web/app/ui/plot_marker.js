// The shapes that are strung along lines: with the dashes they tell eight lines apart without colour.
import { html } from "./html.js";

/** About the middle, one unit being half a shape; full and hollow by turns. */
const SHAPES = [
  "M-1 0A1 1 0 1 1 1 0A1 1 0 1 1-1 0Z",
  "M-0.9-0.9H0.9V0.9H-0.9Z",
  "M0-1.1 1.1 0.9H-1.1Z",
  "M0-1.25 1.25 0 0 1.25-1.25 0Z",
  "M-1.1-0.9H1.1L0 1.1Z",
  "M-1.2-0.4H-0.4V-1.2H0.4V-0.4H1.2V0.4H0.4V1.2H-0.4V0.4H-1.2Z",
  "M-0.5-1.2H0.5V1.2H-0.5Z",
  "M-1.2-0.5H1.2V0.5H-1.2Z",
];

/** @param {{line: number, x: number, y: number, size: number}} props */
export const Marker = ({ line, x, y, size }) =>
  html`<path class="plot-line-${line} plot-marker ${line % 2 ? "is-hollow" : ""}" d=${SHAPES[line % SHAPES.length]} transform="translate(${x.toFixed(1)} ${y.toFixed(1)}) scale(${size})" />`;
