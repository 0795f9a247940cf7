// Which lamp is next, and when: the gap that is planned, counted from when the one before really struck.
/**
 * @typedef {import("../../state/strike_shapes.js").Plan} Plan
 * @typedef {import("../../state/strike_shapes.js").Timer} Timer
 * @typedef {{load: string, name: string, at: number | null}} Lamp
 */

/** Lamps in the order of the plan, those without a time after them. @param {{id: string, name: string}[]} lamps @param {Plan | null} plan @returns {Lamp[]} */
export function inOrder(lamps, plan) {
  const planned = (plan?.order ?? []).map(({ load, name, at }) => ({ load, name, at: at.value }));
  const others = lamps.filter(({ id }) => !planned.some(({ load }) => load === id));
  return [...planned, ...others.map(({ id, name }) => ({ load: id, name, at: null }))];
}

/** @param {Timer | undefined} timer */
const burns = (timer) => timer?.state === "running up" || timer?.state === "full";

/**
 * The first lamp that has not been struck today, and the instant it is due.
 * @param {Lamp[]} order @param {{[load: string]: Timer}} timers
 * @returns {{lamp: Lamp, due: number | null} | null}
 */
export function nextOf(order, timers) {
  const k = order.findIndex(({ load }) => !timers[load] || timers[load].state === "cold");
  if (k < 0) return null;
  const [lamp, before] = [order[k], order[k - 1]];
  const struck = before && burns(timers[before.load]) ? timers[before.load].since : null;
  const gap = before && lamp.at !== null && before.at !== null ? lamp.at - before.at : null;
  return { lamp, due: struck === null || gap === null ? null : struck + gap };
}
