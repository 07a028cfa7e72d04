/** Sheets: what will be printed, page by page as it will print, and every file to take away. */

import { html, nothing } from "../vendor/lit/index.js";
import { paperSizes, sheetNamed } from "../reckon/papers.js";
import { showLength } from "../reckon/length.js";
import { seal } from "../seal.js";
import * as server from "../server.js";
import { capital, counted, numberWord } from "../words.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").MadeFile} MadeFile */

/** px across of a page's picture: sharp on a screen of twice the usual fineness. */
const FINENESS = 1400;

/** @type {import("./stage.js").Stage} */
export const sheets = { id: "sheets", needs: "sheets", place, ledger };

/** The document that is looked at: the chosen one, or the first. @param {Store} store */
function lookedAt({ files, document }) {
  const all = files?.files.filter((f) => f.pages.length) ?? [];
  return all.find((f) => f.name === document) ?? all[0] ?? null;
}

/** @param {Store} store */
function place(store) {
  const file = lookedAt(store);
  const { told } = sheetNamed(file?.name ?? "");
  return html`<section class="sheet pages" aria-label=${file ? `${told}, page by page` : "Preview"} tabindex="0">
    ${file ? file.pages.map((size, at) => page(store, file, size, at + 1)) : html`<p class="soft">The pages appear here when they are drawn.</p>`}</section>`;
}

/**
 * @param {Store} store
 * @param {MadeFile} file
 * @param {import("../types.js").Spot} size
 * @param {number} number
 */
function page(store, file, [w, h], number) {
  const { told } = sheetNamed(file.name);
  const caption = `Page ${number} of ${file.pages.length}`;
  return html`<figure class="leaf-of-paper"><img src=${server.pagePicture(file.name, number, FINENESS, store.files?.revision ?? "")} loading="lazy" width=${Math.round(w * 10)} height=${Math.round(h * 10)}
    alt="${told}, ${caption.toLowerCase()}"><figcaption>${caption}, ${showLength(w, store.units)} by ${showLength(h, store.units)}</figcaption></figure>`;
}

/** @param {Store} store */
function ledger(store) {
  const { files, piece } = store;
  if (!files || !piece) return nothing;
  const documents = files.files.filter((f) => f.pages.length);
  const others = files.files.filter((f) => !f.pages.length);
  const count = documents.reduce((n, f) => n + f.pages.length, 0);
  return html`<h1>${documents.length ? `${capital(numberWord(count))} ${count === 1 ? "page" : "pages"} to print` : "Nothing to print yet"}</h1>
    ${files.refused.map((told) => html`<p class="short">${seal("will not work")}<span>${told}</span></p>`)}
    ${documents.length ? html`<p class="lead">Print at full size, without fitting to the page. Then measure the check line on the first template: it must be 100 mm long.</p>
      ${paper(store)}<p class="row"><a class="do" href=${server.allFiles()} download>Download everything</a> <span class="soft">${counted(files.files.length)} files in one zip.</span></p><ul class="documents">${documents.map((file) => document(store, file))}</ul>` : nothing}
    ${others.length ? html`<h2>For the machine</h2>
      <ul class="files">${others.map((file) => html`<li><span class="file-name">${sheetNamed(file.name).told} <span class="soft small">${file.name}, ${fileSize(file.size)}</span></span>
        <a class="may" href=${server.fileAddress(file.name)} download=${file.name}>Download<span class="vh"> ${file.name}</span></a></li>`)}</ul>` : nothing}`;
}

/** @param {Store} store */
function paper(store) {
  const now = store.piece?.paper;
  return html`<fieldset class="paper"><legend>The paper in the printer</legend>${paperSizes.map(({ name, told }) => html`<label><input type="radio" name="paper" .checked=${name === now}
    @change=${() => store.change(`printing on ${name}`, [{ do: "piece", table: "piece", word: "paper", value: name }])}> ${name} <span class="soft">${told}</span></label>`)}</fieldset>`;
}

/**
 * @param {Store} store
 * @param {MadeFile} file
 */
function document(store, file) {
  const { told, use } = sheetNamed(file.name);
  const shown = lookedAt(store) === file;
  const pages = `${numberWord(file.pages.length)} ${file.pages.length === 1 ? "page" : "pages"}`;
  return html`<li class=${shown ? "chosen" : ""}><h2>${told}</h2><p>${capital(pages)}. ${use}</p><div class="row">
    <button class="may" aria-pressed=${shown} @click=${() => store.set({ document: file.name })}>Look at ${file.pages.length === 1 ? "it" : "them"}<span class="vh">: ${told}</span></button>
    <button class="may" @click=${() => print(file.name)}>Print<span class="vh">: ${told}</span></button>
    <a class="may" href=${server.fileAddress(file.name)} download=${file.name}>Download<span class="vh">: ${told}</span></a></div></li>`;
}

/** Opens the browser's own way of printing for a file; where it has none in place, in a window of its own. @param {string} name */
function print(name) {
  window.document.querySelector("iframe.printing")?.remove();
  const frame = Object.assign(window.document.createElement("iframe"), { className: "printing", src: server.fileAddress(name), title: `Printing ${name}` });
  frame.addEventListener("load", () => {
    try {
      frame.contentWindow?.focus();
      frame.contentWindow?.print();
    } catch {
      window.open(server.fileAddress(name), "_blank", "noopener");
    }
  });
  window.document.body.append(frame);
}

/** @param {number} bytes */
function fileSize(bytes) {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
