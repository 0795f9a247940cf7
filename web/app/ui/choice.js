import { edit } from "../state/rig.js";
import { FieldProblem } from "./field.js";
import { fieldId } from "./field_text.js";
import { html } from "./html.js";

/** @typedef {import("../state/shapes.js").Field} Field */
/** @typedef {{value: string, label: string}} Option */

const FEW = 4;

/** @param {Field} field @returns {Option[]} the typical value is the first choice, and says that it is one */
function optionsOf(field) {
  const { typical, options } = field;
  return typical ? [{ value: "", label: `${typical.origin}: ${typical.text}` }, ...options] : options;
}

/** @param {{field: Field}} props */
export function ChoiceField({ field }) {
  const options = optionsOf(field);
  const short = options.length <= FEW && options.every((option) => option.label.length <= 22);
  /** @param {string} text */
  const choose = (text) => edit([{ address: field.address, text }], field.label);
  const Control = short ? Segments : Select;
  return html`<${Control} field=${field} options=${options} choose=${choose} id=${fieldId(field.address)} />`;
}

/** @typedef {{field: Field, options: Option[], choose: (text: string) => void, id: string}} ControlProps */

/** @param {ControlProps} props */
function Segments({ field, options, choose, id }) {
  return html`
    <fieldset class="field">
      <legend>${field.label}</legend>
      ${field.hint && html`<p class="hint">${field.hint}</p>`}
      <${FieldProblem} problem=${field.problem} id=${id} />
      <${SegmentedButtons} name=${id} value=${field.text} options=${options} choose=${choose} />
      <${TypicalNote} field=${field} />
    </fieldset>
  `;
}

/** Why the typical choice is one; the choice itself says that it is. @param {{field: Field}} props */
const TypicalNote = ({ field }) =>
  field.typical?.note && !field.text && html`<p class="typical"><span class="note">${field.typical.note}</span></p>`;

/**
 * Radio buttons that look like one bar.
 * @param {{name: string, value: string, options: Option[], choose: (text: string) => void}} props
 */
export const SegmentedButtons = ({ name, value, options, choose }) => html`
  <div class="segments">
    ${options.map(
      (option) => html`
        <label class=${option.value === "" ? "estimate" : ""}>
          <input type="radio" name=${name} checked=${option.value === value} onChange=${() => choose(option.value)} />
          <span>${option.label}</span>
        </label>
      `,
    )}
  </div>
`;

/** @param {ControlProps} props */
function Select({ field, options, choose, id }) {
  const known = options.some((option) => option.value === field.text);
  return html`
    <div class=${field.problem ? "field has-problem" : "field"}>
      <label for=${id}>${field.label}</label>
      ${field.hint && html`<p class="hint">${field.hint}</p>`}
      <${FieldProblem} problem=${field.problem} id=${id} />
      <select
        id=${id} aria-describedby=${field.problem ? `${id}-problem` : undefined}
        onChange=${(/** @type {Event} */ event) => choose(/** @type {HTMLSelectElement} */ (event.currentTarget).value)}
      >
        ${!known && html`<option value=${field.text} selected>${field.text || "Choose"}</option>`}
        ${options.map((option) => html`<option value=${option.value} selected=${option.value === field.text}>${option.label}</option>`)}
      </select>
      <${TypicalNote} field=${field} />
    </div>
  `;
}
