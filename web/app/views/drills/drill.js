// One drill: story, facts, questions; the core's own working once they are answered.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, asFailure, statusWords } from "../../state/calculator.js";
import { markDone, newCode } from "../../state/drills.js";
import { go } from "../../state/screen.js";
import { Cautions, FailureBox } from "../../ui/lists.js";
import { html } from "../../ui/html.js";
import { Page } from "../../ui/page.js";
import { Facts } from "./facts.js";
import { QuestionCard } from "./question.js";

/**
 * @typedef {import("../../state/shapes.js").Drill} Drill
 * @typedef {import("../../state/shapes.js").Chain} Chain
 * @typedef {import("../../state/shapes.js").Failure} Failure
 */

/** @param {{id: string, code: string}} props */
export function DrillView({ id, code }) {
  const drill = useSignal(/** @type {Drill | null} */ (null));
  const chain = useSignal(/** @type {Chain | null} */ (null));
  const trouble = useSignal(/** @type {Failure | null} */ (null));
  useEffect(() => {
    load(id, code).then(
      (found) => ((drill.value = found.drill), (chain.value = found.chain)),
      (error) => (trouble.value = asFailure(error)),
    );
  }, []);
  return html`
    <${Page} title=${drill.value?.title ?? "Drill"} back=${{ label: "Back to all drills", go: () => go("drills") }}>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${!drill.value && !trouble.value && html`<p role="status">${statusWords.value}. The drill appears when it is ready.</p>`}
      ${drill.value && html`<${DrillBody} drill=${drill.value} chain=${chain.value} />`}
    <//>
  `;
}

/** @param {string} id @param {string} code */
async function load(id, code) {
  const drill = await ask("drill", { id, code });
  const { chain } = await ask("check", { rig: drill.rig, load: drill.load, shot: drill.shot });
  return { drill, chain };
}

/** @param {{drill: Drill, chain: Chain | null}} props */
function DrillBody({ drill, chain }) {
  const answered = useSignal(/** @type {ReadonlySet<string>} */ (new Set()));
  const all = drill.questions.every((question) => answered.value.has(question.id));
  /** @param {string} id */
  const finish = (id) => {
    answered.value = new Set([...answered.value, id]);
    if (drill.questions.every((question) => answered.value.has(question.id))) markDone(drill.id, drill.code);
  };
  return html`
    <${Code} drill=${drill} />
    ${drill.story.map((paragraph) => html`<p class="story">${paragraph}</p>`)}
    <${Cautions} cautions=${drill.cautions} />
    ${chain && html`<${Facts} chain=${chain} revealed=${all} />`}
    <ol class="questions">
      ${drill.questions.map((question, i) => html`<li key=${question.id}><${QuestionCard} drill=${drill} question=${question} number=${i + 1} finish=${finish} /></li>`)}
    </ol>
    ${all && html`<p class="drill-done" role="status">All answered. The chain above now shows its figures.</p>`}
    <button type="button" class="button main" onClick=${() => go("drills", drill.id, newCode())}>Another, with other numbers</button>
  `;
}

/** The code stands for the drill's numbers. @param {{drill: Drill}} props */
const Code = ({ drill }) => html`
  <form class="code" onSubmit=${(/** @type {Event} */ event) => takeCode(event, drill)}>
    <div class="field">
      <label for="code">Code of these numbers</label>
      <div class="entry">
        <input id="code" name="code" type="text" autocomplete="off" autocapitalize="characters" spellcheck=${false} value=${drill.code} />
        <button type="submit" class="button">Use this code</button>
      </div>
    </div>
  </form>
`;

/** @param {Event} event @param {Drill} drill */
function takeCode(event, drill) {
  event.preventDefault();
  const form = /** @type {HTMLFormElement} */ (event.currentTarget);
  const code = String(new FormData(form).get("code") ?? "").trim();
  if (code) go("drills", drill.id, code);
}
