// One answer with all that stands behind it.
import { html } from "./html.js";
import { Formula } from "./formula.js";
import { Cautions, Problems, Remedies } from "./lists.js";
import { Citation, Origin, Terms, sentence, tied, worded } from "./term.js";
import { VerdictTag } from "./verdict.js";

/**
 * @typedef {import("../state/shapes.js").Finding} FindingShape
 * @typedef {import("../state/shapes.js").Step} Step
 * @typedef {import("../state/shapes.js").Evidence} Evidence
 * @typedef {import("../state/shapes.js").Assumption} Assumption
 */

/** A long chain of steps shows its end opened, and all before it as lines. */
const FIRST_SEEN = 1;

const RELATIONS = /** @type {Record<string, string>} */ ({ "<=": "At most", ">=": "At least" });

/** A finding as a line, its question and its verdict, until it is opened. @param {{finding: FindingShape, go?: (address: string) => void, opened?: boolean}} props */
export const FoldedFinding = ({ finding, go, opened = false }) => html`
  <details class="folded-answer" open=${opened || undefined}>
    <summary><h3>${finding.title}</h3><${VerdictTag} verdict=${finding.verdict} note=${finding.note} /></summary>
    <${Finding} finding=${finding} go=${go} />
  </details>
`;

/** @param {{finding: FindingShape, go?: (address: string) => void, open?: boolean, earlier?: boolean}} props `earlier`: its advice is that of the answer before */
export const Finding = ({ finding, go, open = false, earlier = false }) => html`
  <section class="finding">
    <header>
      <h3>${finding.title}</h3>
      <${VerdictTag} verdict=${finding.verdict} note=${finding.note} />
    </header>
    <p class="says">${tied(sentence(finding.says))}</p>
    <${Versus} finding=${finding} />
    <${Cautions} cautions=${finding.cautions} />
    <${Remedies} remedies=${finding.remedies} earlier=${earlier} />
    <${Problems} problems=${finding.problems} go=${go} />
    <${Assumptions} assumptions=${finding.assumptions} go=${go} />
    <${Working} finding=${finding} open=${open} />
  </section>
`;

/** What is there, what may be there, and what is left between them. @param {{finding: FindingShape}} props */
function Versus({ finding }) {
  const { demand, limit, margin } = finding;
  if (!demand && !limit) return null;
  return html`
    <dl class="versus">
      ${demand && html`<div><dt>${limit ? "Here" : demand.name.replace(/^./, (letter) => letter.toUpperCase()) || "Here"}</dt><dd class="number">${worded(demand.quantity)}</dd></div>`}
      ${limit &&
      html`<div>
        <dt>${RELATIONS[limit.relation] ?? limit.relation}</dt>
        <dd><span class="number">${worded(limit.term.quantity)}</span> <${Origin} origin=${limit.term.origin} /></dd>
      </div>`}
      ${margin && html`<div><dt>${margin.shown_unit ? "Margin" : "That is"}</dt><dd class="number">${worded(margin)}</dd></div>`}
    </dl>
    ${limit && html`<p class="versus-limit">Limit: ${limit.term.name}${limit.term.cite && html`, <${Citation} cite=${limit.term.cite} />`}</p>`}
  `;
}

/** Estimates that the answer leans on, and how to firm them up. @param {{assumptions: Assumption[], go?: (address: string) => void}} props */
export function Assumptions({ assumptions, go }) {
  if (!assumptions.length) return null;
  return html`
    <details class="assumptions">
      <summary>Leans on ${assumptions.length} ${assumptions.length === 1 ? "estimate" : "estimates"}</summary>
      <ul>
        ${assumptions.map(
          ({ term, firm_up, address }) => html`
            <li>
              ${term.name} <${Origin} origin=${term.origin}> ${worded(term.quantity)}<//>
              ${firm_up &&
              (go && address
                ? html`<button type="button" class="text-button" onClick=${() => go(address)}>${sentence(firm_up)}</button>`
                : html`<span class="note">${sentence(firm_up)}</span>`)}
            </li>
          `,
        )}
      </ul>
    </details>
  `;
}

/** @param {{finding: Pick<FindingShape, "title" | "steps" | "evidence">, open: boolean}} props */
export function Working({ finding, open }) {
  if (!finding.steps.length && !finding.evidence) return null;
  return html`
    <details class="working" open=${open || undefined}>
      <summary>Show working<span class="hidden">: ${finding.title}</span></summary>
      <ol class="steps">
        ${finding.steps.map((step, i) => html`<li><${StepLines} step=${step} open=${i >= finding.steps.length - FIRST_SEEN} /></li>`)}
      </ol>
      ${finding.evidence && html`<${EvidenceLines} evidence=${finding.evidence} />`}
    </details>
  `;
}

/** One line until it is opened: what was worked out, and what came of it. @param {{step: Step, open: boolean}} props */
export const StepLines = ({ step, open }) => html`
  <details class="step" open=${open || undefined}>
    <summary><span>${step.title}</span><strong class="number">${worded(step.result.quantity)}</strong></summary>
    ${step.symbols_mathml && html`<${Formula} mathml=${step.symbols_mathml} label="${step.title}, with symbols" />`}
    ${step.numbers_mathml && html`<${Formula} mathml=${step.numbers_mathml} label="${step.title}, with numbers" />`}
    ${step.cite && html`<p class="from">From <${Citation} cite=${step.cite} /></p>`}
    <${Terms} terms=${step.terms} caption="Values in: ${step.title}" />
  </details>
`;

/** A solver has no single formula: it shows what it solved and how exactly. @param {{evidence: Evidence}} props */
const EvidenceLines = ({ evidence }) => html`
  <div class="evidence">
    <h4>Solved together</h4>
    <p>${evidence.method}, ${evidence.iterations} ${evidence.iterations === 1 ? "round" : "rounds"}.</p>
    ${evidence.equations.map((equation) => html`<${Formula} mathml=${equation.mathml} label=${equation.text} />`)}
    ${evidence.residuals.length > 0 &&
    html`<p>What is left over, which should be next to nothing:</p>
      <${Terms} terms=${evidence.residuals} caption="What is left over" />`}
  </div>
`;
