import { effect, signal } from "@preact/signals";
import { parseOr } from "./local.js";

/**
 * @typedef {{theme: "auto" | "day" | "sun" | "dark", gloves: boolean, length: "m" | "ft", size: "mm2" | "AWG"}} Settings
 */

const KEY = "feed-to-frame:settings";
/** @type {Settings} */
const DEFAULTS = { theme: "auto", gloves: false, length: "m", size: "mm2" };

/** @returns {Settings} */
function kept() {
  return { ...DEFAULTS, ...parseOr(localStorage.getItem(KEY), {}) };
}

export const settings = signal(kept());

/** @param {Partial<Settings>} changes */
export function changeSettings(changes) {
  settings.value = { ...settings.value, ...changes };
  localStorage.setItem(KEY, JSON.stringify(settings.value));
}

const dark = matchMedia("(prefers-color-scheme: dark)");
const systemIsDark = signal(dark.matches);
dark.addEventListener("change", () => (systemIsDark.value = dark.matches));

/** Keeps the page's look in step with the settings. First paint is done by theme.js, before any module runs. */
export function followSettings() {
  effect(() => {
    const { theme, gloves } = settings.value;
    const root = document.documentElement;
    root.dataset.theme = theme === "auto" ? (systemIsDark.value ? "dark" : "day") : theme;
    root.dataset.gloves = gloves ? "on" : "off";
    const paper = getComputedStyle(root).getPropertyValue("--paper").trim();
    document.querySelector('meta[name="theme-color"]')?.setAttribute("content", paper);
  });
}
