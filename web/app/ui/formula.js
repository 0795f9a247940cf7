// The core writes formulas as MathML text. It is read here tag by tag: only the elements and attributes below are made,
// and all text becomes text nodes.
import { h } from "preact";

const ELEMENTS = new Set(
  ("math mrow mi mn mo ms mtext mspace mfrac msqrt mroot msub msup msubsup munder mover munderover " +
    "mtable mtr mtd mstyle mpadded mphantom").split(" "),
);
const ATTRIBUTES = new Set(["display", "mathvariant", "stretchy", "accent", "form", "displaystyle", "width", "columnalign", "fence", "separator"]);
const ENTITIES = /** @type {Record<string, string>} */ ({ amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" });
const TOKEN = /<(\/?)([a-zA-Z]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?)>|([^<]+)/g;

/** @typedef {{name: string, attributes: Record<string, string>, children: (Node | string)[]}} Node */

/** @param {string} text */
function decode(text) {
  return text
    .replace(/&#(x?)([0-9a-fA-F]+);/g, (_, hex, digits) => String.fromCodePoint(parseInt(digits, hex ? 16 : 10)))
    .replace(/&([a-z]+);/g, (whole, name) => ENTITIES[name] ?? whole);
}

/** @param {string} source */
function attributesOf(source) {
  /** @type {Record<string, string>} */
  const found = {};
  for (const [, name, value] of source.matchAll(/([\w:-]+)="([^"]*)"/g)) {
    if (ATTRIBUTES.has(name)) found[name] = decode(value);
  }
  return found;
}

/**
 * @param {string} source one MathML element as text
 * @returns {Node} a tree of known elements; an unknown one gives way to its children
 */
export function parse(source) {
  /** @type {Node} */
  const root = { name: "", attributes: {}, children: [] };
  const open = [root];
  for (const [, closing, name, attributes, empty, text] of source.matchAll(TOKEN)) {
    const parent = open[open.length - 1];
    if (text !== undefined) parent.children.push(decode(text));
    else if (closing) open.length = Math.max(1, open.length - 1);
    else {
      const node = { name, attributes: attributesOf(attributes), children: [] };
      parent.children.push(node);
      if (!empty) open.push(node);
    }
  }
  return root;
}

/** @param {Node | string} node @returns {import("preact").ComponentChildren} */
function build(node) {
  if (typeof node === "string") return node;
  const children = node.children.map(build);
  return ELEMENTS.has(node.name) ? h(node.name, node.attributes, ...children) : children;
}

// ---- breaking a long formula -------------------------------------------------------------------
// MathML does not break lines. On a phone a line of numbers would run off the screen, so it is cut before its operators
// into pieces that flow like words. Brackets around something tall stay whole: they must stretch.

const TALL = new Set(["mfrac", "msqrt", "mroot", "mtable", "munderover"]);
const BREAK_BEFORE = new Set([..."=+−-×·≤≥<>≈"]);

/** @param {Node | string} node @returns {boolean} */
const isTall = (node) => typeof node !== "string" && (TALL.has(node.name) || node.children.some(isTall));

/** @param {Node | string} node @param {string} signs */
const isOperator = (node, signs) => typeof node !== "string" && node.name === "mo" && signs.includes(String(node.children[0]));

/** @param {Node | string} node @returns {(Node | string)[]} the row's parts, without the rows around them */
function flat(node) {
  if (typeof node === "string" || !["", "math", "mrow", "mstyle"].includes(node.name)) return [node];
  const bracketed = node.children.some((child) => isOperator(child, "()"));
  return bracketed && isTall(node) ? [node] : node.children.flatMap(flat);
}

/** @param {Node} root @returns {(Node | string)[][]} */
export function pieces(root) {
  /** @type {(Node | string)[][]} */
  const found = [[]];
  for (const part of flat(root)) {
    const here = found[found.length - 1];
    const breaks = typeof part !== "string" && part.name === "mo" && BREAK_BEFORE.has(String(part.children[0]));
    const afterBracket = here.length === 0 || isOperator(here[here.length - 1], "(");
    if (breaks && !afterBracket) found.push([{ ...part, attributes: { ...part.attributes, form: "infix" } }]);
    else here.push(part);
  }
  return found;
}

/** A symbol within a line. @param {{mathml: string}} props */
export const Inline = ({ mathml }) => h("span", null, build(parse(mathml)));

/** A formula that flows over as many lines as it needs; what is still too wide scrolls. @param {{mathml: string, label: string}} props */
export const Formula = ({ mathml, label }) =>
  h(
    "div",
    { class: "formula", tabIndex: 0, role: "group", "aria-label": label },
    pieces(parse(mathml)).map((piece) => h("math", { displaystyle: "true" }, ...piece.map(build))),
  );
