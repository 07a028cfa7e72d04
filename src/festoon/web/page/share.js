/** Taking the work to the machine: a tablet or phone let in by a code. */

import { html, nothing } from "./vendor/lit/index.js";
import { PlainElement } from "./plain-element.js";
import * as server from "./server.js";
import { capital, numberWord } from "./words.js";

/** @typedef {import("./types.js").Share} Share */

/** ms after which an open panel looks again who is in. */
const LOOK_AGAIN = 2000;
const OWN = ["127.0.0.1", "localhost"];

/**
 * A button that opens the panel; nothing on a device that was let in itself.
 * @param {import("./store.js").Store} store
 * @param {string} [told] what the button says
 */
export function sharing(store, told = "Take it to the machine") {
  return OWN.includes(location.hostname) ? html`<festoon-sharing .store=${store} .told=${told}></festoon-sharing>` : nothing;
}

/** The button and its panel: the picture, the address, the code, and how many devices are in. */
class FestoonSharing extends PlainElement {
  static properties = { told: {}, share: { state: true }, trouble: { state: true } };

  constructor() {
    super();
    this.told = "";
    /** @type {import("./store.js").Store | null} */
    this.store = null;
    /** @type {Share | null} */
    this.share = null;
    this.trouble = "";
    this.timer = 0;
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    clearInterval(this.timer);
  }

  render() {
    return html`<button class="may" aria-haspopup="dialog" @click=${() => this.#open()}>${this.told}</button>
      <dialog class="sharing" aria-labelledby="sharing-head" @close=${() => clearInterval(this.timer)}>
        <h1 id="sharing-head" tabindex="-1" autofocus>Take it to the machine</h1>
        ${this.trouble ? html`<p class="wrong" role="alert">${this.trouble}</p>` : nothing}${this.#told()}
        <form method="dialog" class="row">${this.share?.shared && this.share.code ? html`<button type="button" class="may" @click=${() => this.#ask(server.endSharing())}>End sharing</button>` : nothing}
          <button class="may">Close</button></form></dialog>`;
  }

  #told() {
    const { share } = this;
    if (!share) return html`<p class="soft">One moment…</p>`;
    if (!share.shared) return alone();
    return html`${share.code ? wayIn(share) : html`<p class="lead">Sharing has ended, and every other device is out.</p>
        <p><button type="button" class="do" @click=${() => this.#ask(server.newCode())}>Show a code</button></p>`}
      <p aria-live="polite">${devices(share.devices)}</p>
      <p class="soft">Nothing is encrypted on the way: share only in a network that you trust.</p>`;
  }

  #open() {
    this.querySelector("dialog")?.showModal();
    const look = () => this.#ask(server.getShare());
    look();
    clearInterval(this.timer);
    this.timer = window.setInterval(look, LOOK_AGAIN);
  }

  /** @param {Promise<Share>} asked */
  async #ask(asked) {
    try {
      const share = await asked;
      if (this.share && share.devices > this.share.devices) this.store?.say("A device has come in.");
      this.share = share;
      this.trouble = "";
    } catch (error) {
      this.trouble = capital(error instanceof Error ? error.message : String(error));
    }
  }
}
customElements.define("festoon-sharing", FestoonSharing);

function alone() {
  return html`<p class="lead">The page is open on this machine alone.</p>
    <p>To have it on a tablet or phone beside the machine, end Festoon where it was started, and start it again with <code>festoon open --share</code>.</p>`;
}

/** @param {Share} share */
function wayIn(share) {
  const minutes = Math.max(1, Math.ceil(share.minutes));
  return html`<div class="way-in"><img src=${share.picture} width="264" height="264" alt="QR picture of the address and the code">
    <div><p>With a tablet or phone in the same network, scan the picture. Or open</p><p class="address">${bare(share.address)}</p>
      ${share.others.length ? html`<p class="soft small">or ${share.others.map(bare).join(", or ")}</p>` : nothing}
      <p>and type</p><p class="code" translate="no">${share.code}</p>
      <p class="soft">It lets one device in, within ${minutes === 1 ? "a minute" : `${numberWord(minutes)} minutes`}. Then the next code shows here.</p></div></div>`;
}

/** An address as it is typed. @param {string} address */
function bare(address) {
  return address.replace("http://", "");
}

/** @param {number} count */
function devices(count) {
  if (!count) return "No other device is in.";
  return count === 1 ? "One device is in." : `${capital(numberWord(count))} devices are in.`;
}
