// One field of the rig: label, what is wrong, the box, its unit, and the typical value that counts while it is empty.
import { useSignal } from "@preact/signals";
import { edit } from "../state/rig.js";
import { asItStands } from "../state/shown.js";
import { doneTyping, typed } from "../state/typing.js";
import { ChoiceField } from "./choice.js";
import { fieldId, join, split } from "./field_text.js";
import { html } from "./html.js";
import { Origin, sentence } from "./term.js";

/** @typedef {import("../state/shapes.js").Field} Field */

/** @param {{field: Field}} props */
export function FieldRow({ field }) {
  const now = asItStands(field);
  return now.kind === "choice" ? html`<${ChoiceField} field=${now} />` : html`<${EntryField} field=${now} />`;
}

/** @param {{field: Field}} props */
function EntryField({ field }) {
  const draft = useSignal(/** @type {string | null} */ (null));
  const id = fieldId(field.address);
  const parts = split(field.text, field.units);
  const unit = parts.unit || field.unit;
  const problem = draft.value === null ? field.problem : null;

  /** @param {string} text */
  const type = (text) => {
    draft.value = text;
    typed(field.address, join(text, unit), field.label);
  };
  const leave = () => {
    doneTyping();
    draft.value = null;
  };
  return html`
    <div class=${problem ? "field has-problem" : "field"}>
      <label for=${id}>${field.label}${unit && html`<span class="hidden"> in ${unit}</span>`}</label>
      ${field.hint && html`<p class="hint" id="${id}-hint">${field.hint}</p>`}
      <${FieldProblem} problem=${problem} id=${id} />
      <div class="entry">
        <input
          id=${id} type="text" inputmode=${field.keypad} spellcheck=${false} autocomplete="off" enterkeyhint="done"
          class=${field.kind === "text" ? "wide" : ""}
          value=${draft.value ?? parts.number}
          aria-invalid=${problem ? "true" : undefined} aria-describedby=${describedBy(field, id, problem)}
          onInput=${(/** @type {Event} */ event) => type(valueOf(event))}
          onChange=${leave} onBlur=${leave}
          onKeyDown=${(/** @type {KeyboardEvent} */ event) => event.key === "Enter" && leave()}
        />
        <${Units} field=${field} unit=${unit} number=${draft.value ?? parts.number} />
      </div>
      <${Typical} field=${field} id=${id} />
    </div>
  `;
}

/** @param {Event} event */
const valueOf = (event) => /** @type {HTMLInputElement} */ (event.currentTarget).value;

/** @param {Field} field @param {string} id @param {unknown} problem */
function describedBy(field, id, problem) {
  const parts = [field.hint && `${id}-hint`, problem && `${id}-problem`, field.typical && !field.text && `${id}-typical`];
  return parts.filter(Boolean).join(" ") || undefined;
}

/** @param {{problem: Field["problem"], id: string}} props */
export const FieldProblem = ({ problem, id }) =>
  problem &&
  html`<p class="field-problem" id="${id}-problem"><strong>Problem:</strong> ${sentence(problem.message)} ${sentence(problem.way_out)}</p>`;

/** One unit stands beside the box; several are buttons. @param {{field: Field, unit: string, number: string}} props */
function Units({ field, unit, number }) {
  if (field.units.filter(Boolean).length < 2) return unit && html`<span class="suffix" aria-hidden="true">${unit}</span>`;
  /** @param {string} next */
  const change = (next) => edit([{ address: field.address, text: join(number, next) }], `${field.label} in ${next}`);
  return html`
    <div class="units" role="group" aria-label="Unit of ${field.label}">
      ${field.units.map(
        (name) => html`<button type="button" aria-pressed=${name === unit} onClick=${() => change(name)}>${name}</button>`,
      )}
    </div>
  `;
}

/** @param {{field: Field, id: string}} props */
const Typical = ({ field, id }) =>
  field.typical &&
  !field.text &&
  html`<p class="typical" id="${id}-typical">
    Not given. Counting with ${" "}
    ${field.typical.origin === "stated" ? field.typical.text : html`<${Origin} origin=${field.typical.origin}> ${field.typical.text}<//>`}
    ${field.typical.note && html` <span class="note">${field.typical.note}</span>`}
  </p>`;

/** A name is changed less often than a number. @param {Field[]} fields */
const namesLast = (fields) => [...fields.filter((field) => field.kind !== "text"), ...fields.filter((field) => field.kind === "text")];

/** Fields, the rarer ones behind "More fields" or the heading of their section. @param {{fields: Field[], label: string}} props */
export function Fields({ fields, label }) {
  const first = namesLast(fields.filter((field) => !field.more));
  const sections = new Map();
  for (const field of fields.filter((field) => field.more)) sections.set(field.section ?? "", [...(sections.get(field.section ?? "") ?? []), field]);
  if (!fields.length) return null;
  return html`
    <div class="fields" role="group" aria-label=${label}>
      ${first.map((field) => html`<${FieldRow} key=${field.address} field=${field} />`)}
      ${[...sections].map(([name, within]) => html`<${Section} key=${name} name=${name || "More fields"} fields=${within} />`)}
    </div>
  `;
}

/** @param {{name: string, fields: Field[]}} props */
const Section = ({ name, fields }) => html`
  <details class="more" open=${fields.some((field) => field.problem) || undefined}>
    <summary>${name} (${fields.length})</summary>
    ${fields.map((field) => html`<${FieldRow} key=${field.address} field=${field} />`)}
  </details>
`;
