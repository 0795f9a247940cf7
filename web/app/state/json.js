/**
 * @template T
 * @param {string | null} text
 * @param {T} otherwise
 * @returns {T}
 */
export function parseOr(text, otherwise) {
  if (text === null) return otherwise;
  try {
    return JSON.parse(text);
  } catch {
    return otherwise;
  }
}
