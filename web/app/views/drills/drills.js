import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, asFailure, statusWords } from "../../state/calculator.js";
import { done } from "../../state/drills.js";
import { href } from "../../state/screen.js";
import { FailureBox } from "../../ui/lists.js";
import { html } from "../../ui/html.js";
import { Page } from "../../ui/page.js";
import { DrillView } from "./drill.js";

/** @typedef {import("../../state/shapes.js").DrillLine} DrillLine */

/** @param {{rest: string[]}} props */
export function DrillsView({ rest: [id, code = ""] }) {
  return id ? html`<${DrillView} key=${`${id}/${code}`} id=${id} code=${code} />` : html`<${DrillList} />`;
}

function DrillList() {
  const drills = useSignal(/** @type {DrillLine[] | null} */ (null));
  const trouble = useSignal(/** @type {import("../../state/shapes.js").Failure | null} */ (null));
  useEffect(() => {
    ask("drills", {}).then((list) => (drills.value = list), (error) => (trouble.value = asFailure(error)));
  }, []);
  return html`
    <${Page} title="Drills">
      <p>Work a rig on paper, then see the whole working. Everything runs on this device.</p>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${!drills.value && !trouble.value && html`<p role="status">${statusWords.value}. The drills appear when it is ready.</p>`}
      <ul class="drill-list">${drills.value?.map((drill) => html`<li key=${drill.id}><${DrillLink} drill=${drill} /></li>`)}</ul>
    <//>
  `;
}

/** @param {{drill: DrillLine}} props */
function DrillLink({ drill }) {
  const times = done.value[drill.id]?.length ?? 0;
  return html`
    <a class="drill-link" href=${href("drills", drill.id)}>
      <span class="drill-title">${drill.title}</span>
      <span>${drill.teaches}</span>
      <span class="note">${drill.level} · about ${drill.minutes} min${times > 0 ? ` · done ${times === 1 ? "once" : `${times} times`}` : ""}</span>
    </a>
  `;
}
