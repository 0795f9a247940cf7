import { h } from "preact";
import htm from "htm";

/** Tagged template to virtual nodes: no string ever becomes markup. */
export const html = htm.bind(h);
