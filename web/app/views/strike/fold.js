import { useSignal } from "@preact/signals";
import { html } from "../../ui/html.js";

/** A section that asks the core nothing until it is opened. @param {{title: string, line?: string, children?: unknown}} props */
export function Fold({ title, line = "", children }) {
  const open = useSignal(false);
  return html`
    <details class="strike-part" onToggle=${(/** @type {Event} */ event) => (open.value = /** @type {HTMLDetailsElement} */ (event.currentTarget).open)}>
      <summary><span><span>${title}</span>${line && html`<span class="note fold-line">${line}</span>`}</span></summary>
      ${open.value && html`<div class="dim-form">${children}</div>`}
    </details>
  `;
}
