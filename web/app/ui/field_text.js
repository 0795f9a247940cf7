// The user's text, taken apart for the screen and put together for the rig: "25 m" is 25 in the box and m beside it.

const BARE_NUMBER = /^\s*[+\-−]?\d[\d\s.,'’/]*$/;

/**
 * @param {string} text
 * @param {string[]} units
 * @returns {{number: string, unit: string}} unit is "" where the text does not end in one of the units
 */
export function split(text, units) {
  const longestFirst = [...units].sort((a, b) => b.length - a.length);
  for (const unit of longestFirst) {
    const number = text.endsWith(unit) ? text.slice(0, -unit.length).trim() : "";
    if (BARE_NUMBER.test(number)) return { number, unit };
  }
  return { number: text, unit: "" };
}

/**
 * A bare number takes the unit that the screen shows beside it; anything else is kept as typed.
 * @param {string} typed
 * @param {string} unit
 */
export function join(typed, unit) {
  return unit && BARE_NUMBER.test(typed) ? `${typed.trim()} ${unit}` : typed;
}

/** @param {string} address */
export const fieldId = (address) => "field-" + address.replace(/[^\w-]/g, "-");
