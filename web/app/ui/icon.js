import { html } from "./html.js";

const PATHS = {
  undo: "M8 5 3 10l5 5M3 10h11a6 6 0 0 1 0 12h-3",
  redo: "m16 5 5 5-5 5M21 10H10a6 6 0 0 0 0 12h3",
  back: "m14 4-8 8 8 8",
  forward: "m10 4 8 8-8 8",
  down: "m4 9 8 8 8-8",
  plus: "M12 4v16M4 12h16",
  close: "m5 5 14 14M19 5 5 19",
  rig: "M5 2c0 9 5 9 5 20M19 2c0 9-5 9-5 20",
  shots: "M3 7h4l2-3h6l2 3h4v13H3ZM12 9.5a4 4 0 1 1 0 8 4 4 0 0 1 0-8Z",
  strike: "M2 12h5l3-7 4 14 3-7h5M7 8v8M17 8v8",
  drills: "M4 20l4-1L20 7l-3-3L5 16l-1 4ZM14 7l3 3",
  more: "M4 6h16M4 12h16M4 18h16",
  caution: "M12 3 22 21H2ZM12 10v5M12 17.5v1",
  open: "M9 4H4v16h16v-5M13 4h7v7M20 4 10 14",
};

/** @param {{name: keyof typeof PATHS}} props */
export const Icon = ({ name }) =>
  html`<svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d=${PATHS[name]} /></svg>`;
