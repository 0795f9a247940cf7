import { edit } from "../../state/rig.js";
import { href } from "../../state/screen.js";
import { Fields } from "../../ui/field.js";
import { html } from "../../ui/html.js";
import { Terms, tied } from "../../ui/term.js";

/** @typedef {import("../../state/shot_shapes.js").Light} Light */

/** What each lamp's light is taken to be, and the entries that change it. @param {{lights: Light[]}} props */
export const Lights = ({ lights }) => html`
  <section class="shots-lights" aria-label="The light itself">
    <h2>The light itself</h2>
    ${lights.map((light) => html`<${LightOf} key=${light.id} light=${light} />`)}
  </section>
`;

/** @param {{light: Light}} props */
const LightOf = ({ light }) => html`
  <details class="shots-light" open=${light.fields.some((field) => field.problem) || undefined}>
    <summary><span>${light.name}: ${tied(light.title)}</span></summary>
    ${light.recorded && html`<p class="shots-recorded">As recorded. ${light.note} <button type="button" class="text-button" onClick=${() => edit(light.forget, `Forget the recording of ${light.name}`)}>Forget the recording</button></p>`}
    <${Fields} fields=${light.fields} label="Light of ${light.name}" />
    ${light.entries.length > 0 && html`<h3>It rests on</h3><${Terms} terms=${light.entries} caption="What the light of ${light.name} rests on" />`}
    <div class="links">
      <a class="button" href=${href("shots", "recording", light.id)}>Read a recording of it</a>
      ${light.form === "dips" && html`<a class="button" href=${href("shots", "sweep", light.id)}>Log its arc</a>`}
    </div>
  </details>
`;
