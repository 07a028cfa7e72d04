/** Where another device gives its code: typed, or brought by the QR picture behind the # of the address. */

import { capital } from "./words.js";

const form = /** @type {HTMLFormElement} */ (document.querySelector("form"));
const field = /** @type {HTMLInputElement} */ (document.querySelector("#code"));
const said = /** @type {HTMLElement} */ (document.querySelector("#said"));

form.addEventListener("submit", (event) => {
  event.preventDefault();
  void enter();
});

const brought = location.hash.slice(1);
if (brought) {
  history.replaceState(null, "", location.pathname + location.search);
  field.value = brought;
  void enter();
} else {
  field.focus();
}

/** Gives the code, and goes to the piece where that lets the device in. */
async function enter() {
  said.textContent = "";
  try {
    const answer = await fetch("/api/share/enter", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ code: field.value }),
    });
    const told = await answer.json();
    if (answer.ok) location.replace(toPiece(told.piece));
    else refuse(told.sentence);
  } catch {
    refuse("Festoon does not answer. Look whether this device is in the same network, then try again.");
  }
}

/** @param {string} sentence */
function refuse(sentence) {
  said.textContent = capital(sentence);
  field.focus();
  field.select();
}

/** The piece that the picture named, or else the one that the server names. @param {string | null} first */
function toPiece(first) {
  const piece = new URLSearchParams(location.search).get("piece") ?? first;
  return piece ? `/?piece=${encodeURIComponent(piece)}` : "/";
}
