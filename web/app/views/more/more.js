import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, asFailure, statusWords } from "../../state/calculator.js";
import { persisted } from "../../state/keep.js";
import { check, settle } from "../../state/rig.js";
import { go, href } from "../../state/screen.js";
import { changeSettings, settings } from "../../state/settings.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { html } from "../../ui/html.js";
import { OfflineLine, Repair } from "../../ui/offline.js";
import { FailureBox } from "../../ui/lists.js";
import { Page, Safety } from "../../ui/page.js";
import { Status } from "../../ui/status.js";

/** @param {{rest: string[]}} props */
export function MoreView({ rest }) {
  if (rest[0] === "sources") return html`<${SourcesView} />`;
  if (rest[0] === "licences") return html`<${LicencesView} />`;
  return html`
    <${Page} title="More">
      <section aria-labelledby="look"><h2 id="look">Look</h2><${LookSettings} /></section>
      <section aria-labelledby="units"><h2 id="units">Units shown</h2><${UnitSettings} /></section>
      <section aria-labelledby="device">
        <h2 id="device">On this device</h2>
        <${OfflineLine} />
        <${Status} />
        <${KeptLine} />
        <${Repair} />
      </section>
      <section aria-labelledby="about">
        <h2 id="about">About</h2>
        <${Safety} />
        <p class="links">
          <a class="button" href=${href("rigs")}>My rigs</a>
          <a class="button" href=${href("more", "sources")}>Where the figures come from</a>
          <a class="button" href=${href("more", "licences")}>Licences</a>
        </p>
        ${check.value?.version && html`<p class="note">Feed to Frame ${check.value.version}</p>`}
      </section>
    <//>
  `;
}

/** @param {string} name @param {string} legend @param {{value: string, label: string}[]} options @param {string} value @param {(value: string) => void} choose */
const setting = (name, legend, options, value, choose) => html`
  <fieldset class="field"><legend>${legend}</legend><${SegmentedButtons} name=${name} value=${value} options=${options} choose=${choose} /></fieldset>
`;

function LookSettings() {
  const { theme, gloves } = settings.value;
  const themes = [["auto", "As the device"], ["day", "Day"], ["sun", "Sun"], ["dark", "Dark set"]].map(([value, label]) => ({ value, label }));
  const gloveChoices = [{ value: "off", label: "Bare hands" }, { value: "on", label: "Gloves" }];
  return html`
    ${setting("theme", "Theme", themes, theme, (value) => changeSettings({ theme: /** @type {typeof theme} */ (value) }))}
    ${setting("gloves", "Buttons for", gloveChoices, gloves ? "on" : "off", (value) => changeSettings({ gloves: value === "on" }))}
  `;
}

function UnitSettings() {
  const { length, size } = settings.value;
  /** @param {Partial<typeof settings.value>} changes */
  const change = (changes) => (changeSettings(changes), settle());
  const lengths = [{ value: "m", label: "Metres" }, { value: "ft", label: "Feet" }];
  const sizes = [{ value: "mm2", label: "mm²" }, { value: "AWG", label: "AWG" }];
  return html`
    ${setting("length", "Lengths", lengths, length, (value) => change({ length: /** @type {typeof length} */ (value) }))}
    ${setting("size", "Cable sizes", sizes, size, (value) => change({ size: /** @type {typeof size} */ (value) }))}
  `;
}

const KeptLine = () => html`
  <p class="note">
    Rigs are kept on this device only.
    ${persisted.value === true && " The browser has promised not to clear them."}
    ${persisted.value === false && " The browser may clear them when space runs out: export what matters."}
  </p>
`;

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

/** The licence texts of all that the app carries, read inside the app: a home-screen app has no way back from a text file. */
function LicencesView() {
  const text = useSignal("");
  useEffect(() => {
    fetch("licences.txt").then((answer) => answer.text()).then((found) => (text.value = found), () => (text.value = "The file licences.txt could not be read."));
  }, []);
  return html`
    <${Page} title="Licences" back=${{ label: "Back to More", go: () => go("more") }}>
      <pre class="licences" tabindex="0">${text.value}</pre>
    <//>
  `;
}
