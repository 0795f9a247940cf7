import { Working } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Origin, worded } from "../../ui/term.js";
import { capital } from "./names.js";

/** @typedef {import("../../state/shot_shapes.js").Tone} Tone */

/** Where the arc tube itself may ring: an estimate with its reach, never one figure. @param {{tones: Tone[]}} props */
export const Tones = ({ tones }) =>
  tones.length > 0 &&
  html`<section class="shots-tones" aria-label="Where the tube may ring">
    <h2>Where the tube may ring <${Origin} origin="assumed" /></h2>
    <p>Estimated from the size of the tube and a gas temperature that nobody can read off. Larger tubes ring lower. Use it to know where to look, not what to set.</p>
    <ul>
      ${tones.map(
        (tone) => html`<li>
          <span>${capital(tone.name)}</span>
          <span><span class="chip estimate">about ${worded(tone.low.quantity)} to ${worded(tone.high.quantity)}</span></span>
          <span class="note">${tone.rung_by}.</span>
        </li>`,
      )}
    </ul>
    <${Working} finding=${{ title: "Where the tube may ring", steps: tones.map((tone) => tone.step), evidence: null }} open=${false} />
  </section>`;
