// Answers come and are kept with each line of working once; the screens see it in every finding that rests on it.

/**
 * @typedef {import("./shapes.js").Check} Check
 * @typedef {import("./shapes.js").Step} Step
 * @typedef {import("./shapes.js").Finding} Finding
 * @typedef {Omit<Finding, "steps"> & {steps: (Step | number)[]}} PackedFinding
 */

/** @param {Check} packed or whole, as earlier versions kept it @returns {Check} */
export function unpack({ workings, ...answer }) {
  if (!workings) return answer;
  const whole = (/** @type {PackedFinding} */ finding) => ({ ...finding, steps: finding.steps.map((step) => (typeof step === "number" ? workings[step] : step)) });
  const links = answer.chain?.links.map((link) => ({ ...link, findings: link.findings.map(whole) }));
  return { ...answer, source: answer.source.map(whole), chain: answer.chain && { ...answer.chain, links: links ?? [] } };
}

/**
 * An answer that leaves out what can wait shows what was there before: the verdicts of other lamps, the tree, the advice.
 * @param {Check} answer @param {Check | undefined} before
 * @returns {Check}
 */
export function withEarlier(answer, before) {
  const old = new Map(before?.lamps.map((lamp) => [lamp.id, lamp]));
  const lamps = answer.lamps.map((lamp) => (lamp.verdict ? lamp : { ...lamp, verdict: old.get(lamp.id)?.verdict ?? "unknown", headline: old.get(lamp.id)?.headline ?? "" }));
  return withEarlierAdvice({ ...answer, lamps, tree: answer.tree ?? before?.tree ?? [] }, before);
}

/** Until the new advice is there that of the answer before stays; a link that is clear needs none. @param {Check} answer @param {Check | undefined} before @returns {Check} */
function withEarlierAdvice(answer, before) {
  const chain = answer.chain;
  if (!chain || !before?.chain || before.chain.load !== chain.load) return answer;
  const earlier = new Map(before.chain.links.map((link) => [link.id, link]));
  const links = chain.links.map((link) => {
    const old = earlier.get(link.id);
    return old && link.verdict !== "clear" ? { ...link, remedies: old.remedies, findings: link.findings.map((finding) => advised(finding, old.findings)) } : link;
  });
  return { ...answer, chain: { ...chain, links } };
}

/** @param {Finding} finding @param {Finding[]} before @returns {Finding} */
function advised(finding, before) {
  const old = finding.verdict !== "clear" && before.find(({ question, place }) => question === finding.question && place === finding.place);
  return old ? { ...finding, remedies: old.remedies } : finding;
}
