import { html } from "./html.js";

export const Safety = () => html`
  <p class="safety">
    A planning aid: its figures lean on what you enter and on estimates marked as such. Local rules and a licensed electrician decide.
  </p>
`;
