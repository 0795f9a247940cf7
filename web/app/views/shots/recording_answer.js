import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Problems } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { sentence, tied, worded } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";
import { capital, shotName } from "./names.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Recording} Recording
 * @typedef {import("../../state/shapes.js").Term} Term
 */

/** What cameras see comes first; what people feel stands apart. @param {{found: Recording, keep: () => void}} props */
export const RecordingAnswer = ({ found, keep }) => html`
  <section class="shots-read" aria-label="What the recording says">
    <h2>${tied(found.says)}</h2>
    ${found.notes.length > 0 && html`<ul class="shots-notes">${found.notes.map((note) => html`<li>${sentence(note)}</li>`)}</ul>`}
    ${found.problems.length > 0 && html`<div><h3>Lines left out</h3><div class="shots-lines" tabindex="0" role="group" aria-label="Lines left out"><${Problems} problems=${found.problems} /></div></div>`}
    <${Readings} terms=${found.terms} />
    ${found.changes.length > 0 && html`<button type="button" class="button main" onClick=${keep}>Keep it as this lamp's light</button>`}
    <div class="shots-plots">${found.plots.map((plot) => html`<${Plot} key=${plot.id} plot=${plot} />`)}</div>
  </section>
  ${found.shots.length > 0 &&
  html`<section class="shots-read" aria-label="For the camera">
    <h2>For the camera</h2>
    <p>Each shot under this light alone, as recorded.</p>
    <ul class="shots-cards">
      ${found.shots.map(
        (shot) => html`<li class="shots-card">
          <span class="shots-card-head"><strong>${shotName(shot)}</strong><${VerdictTag} verdict=${shot.verdict} /></span>
          <span>${shot.name && shot.name !== shot.text ? `${tied(shot.text)}. ` : ""}${tied(sentence(shot.says))}</span>
        </li>`,
      )}
    </ul>
  </section>`}
  <section class="shots-read" aria-label="For people">
    <h2>For people</h2>
    <p>What flicker does to those who stand in the light. A camera sees other things.</p>
    ${found.findings.map((finding) => html`<${Finding} key=${finding.question} finding=${finding} />`)}
  </section>
`;

/** @param {{terms: Term[]}} props */
const Readings = ({ terms }) => html`
  <dl class="shots-readings">
    ${terms.map((term) => html`<div><dt>${capital(term.name)}</dt><dd><span class="figure">${worded(term.quantity)}</span>${term.note && html`<span class="note">${term.note}</span>`}</dd></div>`)}
  </dl>
`;
