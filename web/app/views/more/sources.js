import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, asFailure, statusWords } from "../../state/calculator.js";
import { go } from "../../state/route.js";
import { FailureBox } from "../../ui/failure.js";
import { html } from "../../ui/html.js";
import { Page } from "../../ui/page.js";

/** Every published source behind the figures, and how surely it was read. */
export function SourcesView() {
  const sources = useSignal(/** @type {import("../../state/shapes.js").Source[] | null} */ (null));
  const trouble = useSignal(/** @type {import("../../state/shapes.js").Failure | null} */ (null));
  useEffect(() => {
    ask("sources", {}).then((list) => (sources.value = list), (error) => (trouble.value = asFailure(error)));
  }, []);
  return html`
    <${Page} title="Where the figures come from" back=${{ label: "Back to More", go: () => go("more") }}>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${!sources.value && !trouble.value && html`<p role="status">${statusWords.value}. The list appears when it is ready.</p>`}
      <ul class="sources">
        ${sources.value?.map(
          (source) => html`<li>
            <h2>${source.title}</h2>
            <p>${[source.id, source.edition].filter(Boolean).join(", ")} <span class="chip">${source.how_sure}</span></p>
            ${source.note && html`<p class="note">${source.note}</p>`}
          </li>`,
        )}
      </ul>
    <//>
  `;
}
