// What belongs to dims and control: one lamp, several, a lamp's own law, its head cable, the control line.
import { choose, record } from "../../state/rig.js";
import { href } from "../../state/screen.js";
import { lamps } from "../../state/shots.js";
import { html } from "../../ui/html.js";
import { Safety } from "../../ui/page.js";
import { BankPart } from "./bank.js";
import { ControlPart } from "./control.js";
import { DimPart } from "./dim.js";
import { Fold } from "./fold.js";
import { HeadCablePart } from "./head_cables.js";
import { RefitPart } from "./refit.js";
import { WarmUpPart } from "./warm_up.js";
import { named } from "./words.js";

export function DimView() {
  const all = lamps.value;
  if (!all.length) return html`<p class="waiting">This rig has no lamp yet. <a href=${href("add")}>Add a lamp</a> to dim it.</p>`;
  const load = all.find(({ id }) => id === record.value?.load)?.id ?? all[0].id;
  return html`
    <h2>Dim and control</h2>
    <label class="act-select strike-lamp">Lamp
      <select onChange=${(/** @type {Event} */ event) => choose({ load: /** @type {HTMLSelectElement} */ (event.currentTarget).value })}>
        ${all.map(({ id, name }) => html`<option value=${id} selected=${id === load}>${named({ load: id, name })}</option>`)}
      </select>
    </label>
    <div>
      <${Fold} title="Dim ${load}" line="From wanted stops to a setting"><${DimPart} key=${load} load=${load} /><//>
      <${Fold} title="Dim several together" line="To one level at the subject"><${BankPart} lamps=${all} /><//>
      <${Fold} title="Law of ${load} from a light meter" line="Two readings or more"><${RefitPart} key=${load} load=${load} /><//>
      <${Fold} title="Warm-up and age of ${load}" line="How it comes up, strikes again, and ages"><${WarmUpPart} key=${load} load=${load} arc=${all.find(({ id }) => id === load)?.kind === "arc lamp"} /><//>
      <${Fold} title="Head cable of ${load}" line="How long each size may be"><${HeadCablePart} key=${load} load=${load} /><//>
      <${Fold} title="Control line" line="Addresses, length, end, refresh"><${ControlPart} /><//>
    </div>
    <${Safety} />
  `;
}
