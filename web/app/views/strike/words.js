// Times and names as this screen writes them.
/** @typedef {{load: string, name: string}} Named */

/** @param {number} n */
const two = (n) => String(n).padStart(2, "0");

/** "4:10", from an hour on "1:04:10". @param {number} seconds */
export function span(seconds) {
  const whole = Math.max(0, Math.round(seconds));
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60];
  return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/** What is left until an instant; it is over at 0:00 and not before. @param {number} until @param {number} now */
export const left = (until, now) => span(Math.ceil(until - now));

/** What has passed since an instant. @param {number} since @param {number} now */
export const gone = (since, now) => span(Math.floor(now - since));

/** The time of day of an instant. @param {number} at seconds since 1970 */
export const timeOfDay = (at) => new Date(at * 1000).toLocaleTimeString("en-GB");

/** With the date where it is not today. @param {number} at @param {number} now */
export function when(at, now) {
  const [then, today] = [new Date(at * 1000), new Date(now * 1000)];
  const day = then.toDateString() === today.toDateString() ? "" : `${then.toLocaleDateString("en-GB", { day: "numeric", month: "short" })}, `;
  return day + timeOfDay(at);
}

/** "A3, 4 kW daylight". @param {Named} lamp */
export const named = ({ load, name }) => (name && name !== load ? `${load}, ${name}` : load);
