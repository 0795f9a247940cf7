/**
 * @typedef {{code: string, address: string, message: string, way_out: string}} Problem
 * @typedef {{code: string, message: string, hint?: string, problems?: Problem[], detail?: string}} ErrorAnswer
 */

/** What the core says when it cannot answer: a code, words for people, a way out, and every problem with its address. */
export class CoreError extends Error {
  /** @param {ErrorAnswer} answer */
  constructor({ code, message, hint = "", problems = [], detail = "" }) {
    super(message);
    this.name = "CoreError";
    this.code = code;
    this.hint = hint;
    this.problems = problems;
    this.detail = detail;
  }
}
