// Keystrokes on their way to the rig: a short pause gathers them, leaving the field sends them at once.
import { edit, endTyping } from "./rig.js";

const PAUSE = 100;
/** @type {(() => void) | null} */
let waiting = null;
let timer = 0;

/** @param {string} address @param {string} text @param {string} label */
export function typed(address, text, label) {
  waiting = () => edit([{ address, text }], label, address);
  clearTimeout(timer);
  timer = setTimeout(flushTyping, PAUSE);
}

export function flushTyping() {
  clearTimeout(timer);
  waiting?.();
  waiting = null;
}

/** The field was left. */
export function doneTyping() {
  flushTyping();
  endTyping();
}
