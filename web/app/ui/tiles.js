import { html } from "./html.js";

/** @typedef {{id: string, label: string, group?: string, line?: string}} Tile */

/** Big buttons to pick from, under the names of their groups. @param {{tiles: Tile[], pick: (id: string) => void}} props */
export function Tiles({ tiles, pick }) {
  const groups = [...new Set(tiles.map((tile) => tile.group ?? ""))];
  return groups.map(
    (group) => html`
      ${group && html`<h2>${group}</h2>`}
      <ul class=${tiles.some((tile) => tile.line) ? "tiles tiles-long" : "tiles"}>
        ${tiles.filter((tile) => (tile.group ?? "") === group).map((tile) => html`<li><${TileButton} tile=${tile} pick=${pick} /></li>`)}
      </ul>
    `,
  );
}

/** @param {{tile: Tile, pick: (id: string) => void}} props */
const TileButton = ({ tile, pick }) => html`
  <button type="button" class="tile" onClick=${() => pick(tile.id)}>
    <span>${tile.label}</span>
    ${tile.line && html`<span class="tile-line"><span class="chip estimate">typical</span> ${tile.line.replace(/^typical\s*/i, "")}</span>`}
  </button>
`;
