import { html } from "./html.js";
import { Icon } from "./icon.js";

/**
 * A screen below another: a way back, a heading, the content.
 * @param {{title: string, back?: {label: string, go: () => void}, children?: unknown}} props
 */
export const Page = ({ title, back, children }) => html`
  <header class="top">
    ${back && html`<button type="button" class="icon-button" aria-label=${back.label} onClick=${back.go}><${Icon} name="back" /></button>`}
    <h1>${title}</h1>
  </header>
  <main id="main" tabindex="-1" class="page">${children}</main>
`;

export const Safety = () => html`
  <p class="safety">
    A planning aid: its figures lean on what you enter and on estimates marked as such. Local rules and a licensed electrician decide.
  </p>
`;
