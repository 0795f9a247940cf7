import { useSignal } from "@preact/signals";
import { ask, asFailure } from "../../state/calculator.js";
import { FailureBox } from "../../ui/lists.js";
import { join } from "../../ui/field_text.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { tied, worded } from "../../ui/term.js";

/**
 * @typedef {import("../../state/shapes.js").Drill} Drill
 * @typedef {import("../../state/shapes.js").Question} Question
 * @typedef {import("../../state/shapes.js").Mark} Mark
 * @typedef {import("../../state/shapes.js").Failure} Failure
 */

/** @type {Record<Mark["outcome"], string>} */
const OUTCOMES = { right: "Right", close: "Close", wrong: "Not yet", unit: "Check the unit", unreadable: "Not a number with a unit" };

/** @param {{drill: Drill, question: Question, number: number, finish: (id: string) => void}} props */
export function QuestionCard({ drill, question, number, finish }) {
  const mark = useSignal(/** @type {Mark | null} */ (null));
  const blank = useSignal(false);
  const trouble = useSignal(/** @type {Failure | null} */ (null));
  /** @param {string} answer @param {boolean} reveal */
  const send = async (answer, reveal) => {
    try {
      const params = { id: drill.id, code: drill.code, question: question.id, answer, reveal };
      mark.value = await ask("mark", params);
      trouble.value = null;
      blank.value = !answer.trim();
      if (mark.value?.finding) finish(question.id);
    } catch (error) {
      trouble.value = asFailure(error);
    }
  };
  return html`
    <section class="question" aria-label="Question ${number}">
      <h2>${tied(question.prompt)}</h2>
      <${Answer} question=${question} id="answer-${question.id}" send=${send} />
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      <div role="status">${mark.value && html`<${Outcome} mark=${mark.value} blank=${blank.value} />`}</div>
      <${Hints} hints=${question.hints} />
      ${mark.value?.finding && html`<${Finding} finding=${mark.value.finding} open=${true} />`}
    </section>
  `;
}

/** @param {{question: Question, id: string, send: (answer: string, reveal: boolean) => void}} props */
function Answer({ question, id, send }) {
  const text = useSignal("");
  const answer = () => join(text.value, question.unit);
  /** @param {Event} event */
  const submit = (event) => {
    event.preventDefault();
    send(answer(), false);
  };
  return html`
    <form class="field" onSubmit=${submit}>
      <label for=${id}>Your answer<span class="hidden"> in ${question.unit}</span></label>
      <p class="hint" id="${id}-hint">Counts as right within ${question.tolerance}.</p>
      <div class="entry">
        <input
          id=${id} type="text" inputmode="decimal" autocomplete="off" spellcheck=${false} aria-describedby="${id}-hint" value=${text.value}
          onInput=${(/** @type {Event} */ event) => (text.value = /** @type {HTMLInputElement} */ (event.currentTarget).value)}
        />
        <span class="suffix" aria-hidden="true">${question.unit}</span>
        <button type="submit" class="button">Mark it</button>
      </div>
      <button type="button" class="text-button" onClick=${() => send(answer(), true)}>Show the answer and its working</button>
    </form>
  `;
}

/** Who only asks for the answer is not told that none was given. @param {{mark: Mark, blank: boolean}} props */
const Outcome = ({ mark, blank }) => html`
  ${!blank && html`<p class="outcome outcome-${mark.outcome}">${mark.says.startsWith(OUTCOMES[mark.outcome]) ? "" : html`<strong>${OUTCOMES[mark.outcome]}.</strong> `}${tied(mark.says)}</p>`}
  ${mark.expected && html`<p>The core gets <strong class="number">${worded(mark.expected.quantity)}</strong>.</p>`}
`;

/** One hint at a time, from the goal to the worked step. @param {{hints: string[]}} props */
function Hints({ hints }) {
  const shown = useSignal(0);
  return html`
    <ol class="hints">${hints.slice(0, shown.value).map((hint) => html`<li>${hint}</li>`)}</ol>
    ${shown.value < hints.length &&
    html`<button type="button" class="text-button" onClick=${() => (shown.value += 1)}>Show a hint (${shown.value + 1} of ${hints.length})</button>`}
  `;
}
