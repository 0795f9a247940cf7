import { wide } from "../../state/screen.js";
import { adviceBehind } from "../../state/shown.js";
import { removeLamp } from "../../state/rigs.js";
import { Fields } from "../../ui/field.js";
import { Finding, FoldedFinding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { goToField } from "./open_link.js";

/** @typedef {import("../../state/shown.js").ShownLink} ShownLink */

/** What is behind one link: its fields and its working. @param {{link: ShownLink, load: string, name: string}} props */
export function LinkPanel({ link, load, name }) {
  return html`
    <section class="panel" id="panel-${link.id}" aria-label="${link.title}, fields and working">
      ${wide.value ? html`<h2>${link.title}</h2>` : html`<h2 class="hidden">${link.title}</h2>`}
      <${Fields} fields=${link.fields} label="${link.title}, fields" />
      ${link.findings.map((finding, i) => html`<${Answer} key=${finding.question} finding=${finding} first=${i === 0} />`)}
      <${Share} link=${link} />
      ${link.kind === "lamp" && html`<${Remove} load=${load} name=${name || link.title} />`}
    </section>
  `;
}

/** What is clear folds into a line, so that the trouble stands out; the link's first answer is always open. @param {{finding: import("../../state/shapes.js").Finding, first: boolean}} props */
function Answer({ finding, first }) {
  if (first || finding.verdict !== "clear") return html`<${Finding} finding=${finding} earlier=${adviceBehind.value} go=${goToField} open=${wide.value && first} />`;
  return html`<${FoldedFinding} finding=${finding} go=${goToField} />`;
}

/** @param {{link: ShownLink}} props */
function Share({ link }) {
  if (link.share === null) return null;
  const share = `${Math.round(link.share * 100)}\u00a0%`;
  return html`<p class="share"><strong class="number">${share}</strong> of the power drawn still counts at this link. That is the width of the ribbon.</p>`;
}

/** @param {{load: string, name: string}} props */
const Remove = ({ load, name }) => html`
  <button type="button" class="button" onClick=${() => removeLamp(load, name)}>Remove this lamp</button>
`;
