// The ribbon: one band beside the links, as wide at each link as the share of the drawn power that still arrives there,
// warm while it is electricity and cold once it is light.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { html } from "./html.js";

/**
 * @typedef {import("../state/shapes.js").Link} Link
 * @typedef {{y: number, share: number, medium: "power" | "light"}} Point
 */

/** The width goes with the square of the share: 10 % lost takes 19 % off, which the eye sees. */
const widthOf = (/** @type {number} */ share) => Math.min(1, Math.max(0, share)) ** 2;
const SCALE = "Its width goes with the square of the share, so that small losses show.";

/** @param {Point[]} points @param {number} full width in pixels @param {number} side -1 left edge, 1 right edge */
function edge(points, full, side) {
  return points.map((point, i) => {
    const x = full / 2 + (side * Math.max(2, full * widthOf(point.share))) / 2;
    return { x, y: point.y, i };
  });
}

/** @param {{x: number, y: number}[]} line smooth, upright at every point */
function curve(line) {
  let path = "";
  for (let i = 1; i < line.length; i++) {
    const [from, to] = [line[i - 1], line[i]];
    const middle = (from.y + to.y) / 2;
    path += `C${from.x} ${middle} ${to.x} ${middle} ${to.x} ${to.y}`;
  }
  return path;
}

/** @param {Point[]} points @param {number} full */
export function outline(points, full) {
  const left = edge(points, full, -1);
  const right = edge(points, full, 1).reverse();
  return `M${left[0].x} ${left[0].y}${curve(left)}L${right[0].x} ${right[0].y}${curve(right)}Z`;
}

/** @param {Link[]} links @returns {(Link & {share: number})[]} a share that is not known carries on from the link before */
function carried(links) {
  let share = 1;
  return links.map((link) => ({ ...link, share: (share = link.share ?? share) }));
}

/** @param {Link[]} links */
function described(links) {
  const parts = links.map((link) => `${link.title} ${link.share === null ? "not known" : `${Math.round(link.share * 100)} %`}`);
  return `Share of the drawn power that arrives: ${parts.join(", ")}. ${SCALE}`;
}

/** @param {SVGSVGElement | null} svg @returns {{ys: number[], width: number, height: number}} */
function measure(svg) {
  const list = svg?.parentElement;
  if (!svg || !list) return { ys: [], width: 0, height: 0 };
  const { top, height } = list.getBoundingClientRect();
  const ys = [...list.querySelectorAll("[data-node]")].map((node) => {
    const box = node.getBoundingClientRect();
    return box.top + box.height / 2 - top;
  });
  return { ys, width: svg.getBoundingClientRect().width, height };
}

/** Stands in the list of links; each link marks its place with data-node. @param {{links: Link[]}} props */
export function Ribbon({ links }) {
  const svg = useRef(/** @type {SVGSVGElement | null} */ (null));
  const [{ ys, width, height }, setBox] = useState(() => measure(null));
  useLayoutEffect(() => {
    const list = svg.current?.parentElement;
    if (!list) return;
    const observer = new ResizeObserver(() => setBox(measure(svg.current)));
    for (const part of [list, ...list.querySelectorAll("[data-node]")]) observer.observe(part);
    return () => observer.disconnect();
  }, [links.length]);
  const points = carried(links).map(({ share, medium }, i) => ({ share, medium, y: ys[i] ?? 0 }));
  const ready = ys.length === links.length && width > 0;
  return html`
    <svg ref=${svg} class="ribbon" role="img" aria-label=${described(links)} height=${height || 1}>
      ${ready && html`<${Band} points=${points} width=${width} height=${height} />`}
    </svg>
  `;
}

/** @param {{points: Point[], width: number, height: number}} props */
function Band({ points, width, height }) {
  const ends = [{ ...points[0], y: 0 }, ...points, { ...points[points.length - 1], y: height }];
  const turn = points.findIndex((point) => point.medium === "light");
  const [from, to] = turn > 0 ? [points[turn - 1].y, points[turn].y] : [height, height];
  return html`
    <defs>
      <linearGradient id="power-to-light" gradientUnits="userSpaceOnUse" x1="0" x2="0" y1="0" y2=${height}>
        <stop class="ribbon-start" offset="0" />
        <stop class="ribbon-warm" offset=${from / height} />
        <stop class="ribbon-cold" offset=${to / height} />
        <stop class="ribbon-end" offset="1" />
      </linearGradient>
    </defs>
    <rect class="ribbon-full" x="0" y="0" width=${width} height=${height} />
    <path class="ribbon-band" d=${outline(ends, width)} fill="url(#power-to-light)" />
  `;
}
