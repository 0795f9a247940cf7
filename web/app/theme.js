// Runs before the first paint, so that a dark set is never lit up by a white page. A classic script: it must block.
(() => {
  /** @type {{theme?: string, gloves?: boolean}} */
  let kept = {};
  try {
    kept = JSON.parse(localStorage.getItem("feed-to-frame:settings") ?? "{}");
  } catch {
    // An unreadable setting falls back to the system's choice.
  }
  const system = matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "day";
  const chosen = kept.theme && kept.theme !== "auto" ? kept.theme : system;
  document.documentElement.dataset.theme = chosen;
  document.documentElement.dataset.gloves = kept.gloves ? "on" : "off";
})();
