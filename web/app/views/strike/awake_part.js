import { canBuzz, canStayOn, staysOn, wish, wishes } from "../../state/awake.js";
import { html } from "../../ui/html.js";

/** The screen, a sound, a buzz: each is off until asked for, and says how it is. */
export const AwakePart = () => html`
  <section class="strike-part awake" aria-label="This phone while you strike">
    <h2>This phone while you strike</h2>
    ${canStayOn
      ? html`<${Switch} name="awake" label="Keep the screen on" /><p class="note" role="status">${screenWords()}</p>`
      : html`<p class="note">This device does not let a page keep the screen on. The timers stay right with the screen off.</p>`}
    <${Switch} name="sound" label="Sound when a lamp is ready" />
    ${canBuzz && html`<${Switch} name="buzz" label="Buzz when a lamp is ready" />`}
    <p class="note">They speak only while this page is open. After a restart, touch the page once so that it may sound.</p>
  </section>
`;

function screenWords() {
  if (!wishes.value.awake) return "The screen may switch off. The timers stay right.";
  return staysOn.value ? "The screen stays on while this page is open." : "The device refuses to keep the screen on just now. The timers stay right.";
}

/** @param {{name: "awake" | "sound" | "buzz", label: string}} props */
const Switch = ({ name, label }) => html`
  <button type="button" class="button switch" aria-pressed=${wishes.value[name]} onClick=${() => wish({ [name]: !wishes.value[name] })}>
    <span>${label}</span><span class="switch-state">${wishes.value[name] ? "On" : "Off"}</span>
  </button>
`;
