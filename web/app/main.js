// Starts the page: the kept rig is painted first, the calculator and the offline store follow.
import { h, render } from "preact";
import { start as startOffline } from "./offline/register.js";
import { fetchKit, isUp } from "./state/calculator.js";
import { flush } from "./state/keep.js";
import { settleUnlessAsked } from "./state/rig.js";
import { start } from "./state/rigs.js";
import { followSettings } from "./state/settings.js";
import { flushTyping } from "./state/typing.js";
import { App } from "./views/app.js";
import { step } from "./views/rig/top.js";

/** Leaving must lose nothing; a phone gives no other warning. */
function leave() {
  flushTyping();
  flush();
}

/** @param {KeyboardEvent} event */
function shortcuts(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target instanceof HTMLInputElement) return;
  const key = event.key.toLowerCase();
  if (key !== "z" && key !== "y") return;
  event.preventDefault();
  step(key === "y" || event.shiftKey ? "redo" : "undo");
}

followSettings();
const root = /** @type {HTMLElement} */ (document.getElementById("app"));
const kept = start();
root.replaceChildren();
render(h(App, null), root);
isUp.subscribe((up) => {
  if (!up) return;
  fetchKit().catch(() => {});
  settleUnlessAsked();
});
addEventListener("keydown", shortcuts);
addEventListener("pagehide", leave);
addEventListener("visibilitychange", () => document.hidden && leave(), true);
kept.finally(startOffline);
