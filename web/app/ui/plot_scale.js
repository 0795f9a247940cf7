// Where a value lies on an axis, and which values are written on it. Drawing only: no figure is made here.

/** @typedef {import("../state/shot_shapes.js").Axis} Axis */
/** @typedef {{from: number, to: number, place: (value: number) => number, ticks: number[]}} Scale */

/** @param {number} value in plain digits, three of them at most that count */
export function figure(value) {
  const rounded = Number(value.toPrecision(Math.abs(value) >= 1000 ? 4 : 3));
  return String(rounded).replace("-", "\u2212");
}

/** @param {number} span @param {number} most @returns {number} a round step */
function step(span, most) {
  const raw = span / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(raw));
  return power * ([1, 2, 5, 10].find((factor) => factor * power >= raw) ?? 10);
}

/** @param {number} from @param {number} to @param {number} most */
function evenTicks(from, to, most) {
  const by = step(to - from, most);
  const first = Math.ceil(from / by - 1e-9);
  return Array.from({ length: Math.floor(to / by + 1e-9) - first + 1 }, (_, i) => (first + i) * by);
}

/** @param {number} from @param {number} to @param {number} most */
function decadeTicks(from, to, most) {
  const [low, high] = [Math.round(Math.log10(from)), Math.floor(Math.log10(to) + 1e-9)];
  const every = Math.ceil((high - low + 1) / most);
  return Array.from({ length: high - low + 1 }, (_, i) => low + i).filter((n) => (n - low) % every === 0).map((n) => 10 ** n);
}

/**
 * @param {Axis} axis
 * @param {number[]} values that must find room
 * @param {{start: number, end: number, most: number, zero?: boolean}} room in pixels, how many ticks fit, whether 0 belongs on it
 * @returns {Scale}
 */
export function scaleOf(axis, values, { start, end, most, zero = false }) {
  const log = axis.scale === "log";
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const from = log ? 10 ** Math.floor(Math.log10(least) + 1e-9) : zero ? Math.min(0, least) : least;
  const to = widened(from, greatest, zero && !log);
  const along = (/** @type {number} */ value) =>
    log ? Math.log(Math.max(value, from) / from) / Math.log(to / from) : (value - from) / (to - from);
  const ticks = log ? decadeTicks(from, to, most) : evenTicks(from, to, most);
  return { from, to, ticks, place: (value) => start + along(value) * (end - start) };
}

/** An axis without extent gets some. @param {number} from @param {number} greatest @param {boolean} airy leaves room above the highest */
function widened(from, greatest, airy) {
  if (!(greatest > from)) return from ? from * 1.1 : 1;
  return airy ? greatest + 0.08 * (greatest - from) : greatest;
}
