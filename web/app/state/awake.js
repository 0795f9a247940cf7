// The screen kept on, and a sound or a buzz when a lamp is ready. All of it only where asked for.
import { signal } from "@preact/signals";
import { parseOr } from "./local.js";

const KEY = "feed-to-frame:awake";
export const canStayOn = "wakeLock" in navigator;
export const canBuzz = "vibrate" in navigator;

export const wishes = signal({ awake: false, sound: false, buzz: false, ...parseOr(localStorage.getItem(KEY), {}) });
/** Whether the device keeps the screen on right now. */
export const staysOn = signal(false);

/** @type {WakeLockSentinel | null} */
let lock = null;
/** @type {AudioContext | null} */
let audio = null;

/** @param {Partial<typeof wishes.value>} changes */
export function wish(changes) {
  wishes.value = { ...wishes.value, ...changes };
  localStorage.setItem(KEY, JSON.stringify(wishes.value));
  if ("awake" in changes) stayOn();
  else if (changes.sound || changes.buzz) ring();
}

/** Takes or lets go the lock; the device itself lets go when the page is hidden. */
export async function stayOn() {
  if (!canStayOn || !wishes.value.awake) return letGo();
  if (lock || document.hidden) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => ([lock, staysOn.value] = [null, false]));
    staysOn.value = true;
  } catch {
    staysOn.value = false; // a low battery, or the device's own rule
  }
}

export async function letGo() {
  await lock?.release();
  [lock, staysOn.value] = [null, false];
}

/** Something was reached: said by the means that were asked for. */
export function ring() {
  if (wishes.value.buzz && canBuzz) navigator.vibrate([300, 150, 300]);
  if (wishes.value.sound) beep();
}

/** Two short tones. A browser is silent until the page has been touched once. */
async function beep() {
  audio ??= new AudioContext();
  await audio.resume();
  const tone = audio.createOscillator();
  const volume = audio.createGain();
  tone.frequency.value = 880;
  volume.gain.setValueCurveAtTime([0, 0.3, 0, 0.3, 0], audio.currentTime, 0.8);
  tone.connect(volume).connect(audio.destination);
  tone.start();
  tone.stop(audio.currentTime + 0.8);
}
