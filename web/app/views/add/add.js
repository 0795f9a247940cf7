// Adding a lamp: which lamp, which ballast, which supply. A question with one answer is not asked.
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { asFailure, fetchKit, isUp, kit, statusWords, tryAgain } from "../../state/calculator.js";
import { record } from "../../state/rig.js";
import { addLamp } from "../../state/rigs.js";
import { go, goAfter } from "../../state/screen.js";
import { FailureBox } from "../../ui/lists.js";
import { html } from "../../ui/html.js";
import { Page } from "../../ui/page.js";
import { tied } from "../../ui/term.js";

/**
 * @typedef {import("../../state/shapes.js").Kit} Kit
 * @typedef {import("../../state/shapes.js").Failure} Failure
 * @typedef {{lamp?: string, ballast?: string, supply?: string}} Picks
 * @typedef {{id: string, label: string, group?: string, line?: string}} Tile
 * @typedef {{part: keyof Picks, title: string, tiles: Tile[]}} Question
 */

export function AddView() {
  const picks = useSignal(/** @type {Picks} */ ({}));
  const trouble = useSignal(/** @type {Failure | null} */ (null));
  useEffect(() => {
    if (isUp.value) fetchKit().catch((error) => (trouble.value = asFailure(error)));
  }, [isUp.value]);
  const question = kit.value && nextQuestion(kit.value, picks.value);

  /** @param {keyof Picks} part @param {string} id */
  async function pick(part, id) {
    const chosen = { ...picks.value, [part]: id };
    if (kit.value && nextQuestion(kit.value, chosen)) return void (picks.value = chosen);
    try {
      await goAfter(async () => {
        await addLamp(complete(/** @type {Kit} */ (kit.value), chosen));
        return ["rig"];
      });
    } catch (error) {
      trouble.value = asFailure(error);
    }
  }
  return html`
    <${Page} title=${question ? question.title : "Add a lamp"} back=${{ label: "Back", go: () => back(picks) }}>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${question ? html`<${Ask} key=${question.part} question=${question} pick=${pick} />` : html`<${Waiting} />`}
    <//>
  `;
}

/** @param {{question: Question, pick: (part: keyof Picks, id: string) => void}} props */
function Ask({ question, pick }) {
  const place = useRef(/** @type {HTMLDivElement | null} */ (null));
  useEffect(() => {
    scrollTo(0, 0);
    place.current?.focus({ preventScroll: true });
  }, []);
  return html`
    <div ref=${place} tabindex="-1" role="group" aria-label=${question.title}>
      <${Tiles} tiles=${question.tiles} pick=${(/** @type {string} */ id) => pick(question.part, id)} />
    </div>
  `;
}

const Waiting = () => html`
  <div class="waiting">
    <p role="status">${statusWords.value}. The kit appears here when it is ready.</p>
    ${statusWords.value.includes("failed") && html`<button type="button" class="button" onClick=${tryAgain}>Try again</button>`}
  </div>
`;

/** @param {import("@preact/signals").Signal<Picks>} picks */
function back(picks) {
  if (!picks.value.lamp) return go("rig");
  picks.value = picks.value.ballast ? { lamp: picks.value.lamp } : {};
}

/** @param {Kit} kit @param {Picks} picks */
const ballastsOf = (kit, picks) => kit.lamps.find((lamp) => lamp.id === picks.lamp)?.ballasts ?? [];

/** A rig that is fed already is not asked for its supply. */
const hasSupply = () => Object.keys(record.value?.rig.supply ?? {}).length > 0;

/** @param {Kit} kit @param {Picks} picks @returns {Question | null} null when all is known */
function nextQuestion(kit, picks) {
  if (!picks.lamp) return { part: "lamp", title: "Which lamp?", tiles: kit.lamps };
  const ballasts = ballastsOf(kit, picks);
  if (!picks.ballast && ballasts.length > 1) {
    return { part: "ballast", title: "Which ballast?", tiles: ballasts.map((each) => ({ ...each, line: each.typical_line })) };
  }
  if (!picks.supply && !hasSupply() && kit.supplies.length > 1) return { part: "supply", title: "What feeds it?", tiles: kit.supplies };
  return null;
}

/** @param {Kit} kit @param {Picks} picks */
function complete(kit, { lamp = "", ballast, supply }) {
  const only = ballastsOf(kit, { lamp })[0]?.id ?? "";
  return { lamp, ballast: ballast ?? only, supply: supply ?? (hasSupply() ? "" : (kit.supplies[0]?.id ?? "")) };
}

/** Big buttons to pick from, under the names of their groups. @param {{tiles: Tile[], pick: (id: string) => void}} props */
function Tiles({ tiles, pick }) {
  const long = tiles.some((tile) => tile.line || tile.label.length > 20);
  const groups = [...new Set(tiles.map((tile) => tile.group ?? ""))];
  return groups.map(
    (group) => html`
      ${group && html`<h2>${group}</h2>`}
      <ul class=${long ? "tiles tiles-long" : "tiles"}>
        ${tiles.filter((tile) => (tile.group ?? "") === group).map((tile) => html`<li><${TileButton} tile=${tile} pick=${pick} /></li>`)}
      </ul>
    `,
  );
}

/** @param {{tile: Tile, pick: (id: string) => void}} props */
const TileButton = ({ tile, pick }) => html`
  <button type="button" class="tile" onClick=${() => pick(tile.id)}>
    <span>${tied(tile.label)}</span>
    ${tile.line && html`<span class="tile-line"><span class="chip estimate">typical</span> ${tied(tile.line.replace(/^typical\s*|:?\s*typical$/gi, ""))}</span>`}
  </button>
`;
