import { html } from "../../ui/html.js";
export const DimView = () => html`<p class="waiting">Nothing here yet.</p>`;
