/** The ledger page of each stage: what it says, and what may be chosen in it. */

import { html, nothing } from "./vendor/lit/index.js";
import "./blank.js";
import { set, standsAt, TURN, withinTurn } from "./reckon/edits.js";
import { runs } from "./reckon/ledger.js";
import { showLength } from "./reckon/length.js";
import { seal, sealOf, wordOf } from "./seal.js";

/** @typedef {import("./types.js").Piece} Piece */
/** @typedef {import("./types.js").Element} Element */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").Units} Units */
/** @typedef {(name: string, detail?: unknown) => void} Tell */

/**
 * Lay out: of the chosen part, or of the piece as a whole.
 * @param {Piece} piece
 * @param {string} panel
 * @param {string} chosen
 * @param {Units} units
 * @param {(part: Part) => number} count stitches of a part
 * @param {Tell} tell
 */
export function layOut(piece, panel, chosen, units, count, tell) {
  const part = piece.parts.find((p) => p.name === chosen);
  const element = part && piece.elements.find((e) => e.name === part.element);
  return part && element ? ofPart(piece, part, element, units, count(part), tell) : ofPiece(piece, panel, units, tell);
}

/**
 * @param {Piece} piece
 * @param {string} panel
 * @param {Units} units
 * @param {Tell} tell
 */
function ofPiece(piece, panel, units, tell) {
  const cloth = piece.panels.find((p) => p.name === panel);
  const here = piece.elements.filter((e) => e.panel === panel);
  return html`<h1>${piece.name}</h1>
    <p class="soft">${cloth ? `${capital(cloth.name)}, ${cloth.cloth || "cloth"}, ${showLength(cloth.size[0], units)} by ${showLength(cloth.size[1], units)}.` : nothing}
      ${here.length ? "From the lowest layer to the highest:" : "Nothing lies on this cloth yet."}</p>
    ${here.map((element) => {
      const parts = piece.parts.filter((p) => p.element === element.name);
      return html`<section class="of-element"><h2 class="element"><button class="leaf" @click=${() => tell("choose", parts[0]?.name ?? "")}>${capital(element.name)}</button></h2>
        ${sentences(element, units, tell)}</section>`;
    })}
    ${piece.findings.length ? html`<div class="of-piece">${piece.findings.map((f) => html`<p class="short">${seal(f.verdict)}<span><b class="word ${sealOf(f.verdict)}">${wordOf(f.verdict)}.</b> ${f.reason} ${f.remedy}</span></p>`)}</div>` : nothing}`;
}

/**
 * @param {Piece} piece
 * @param {Part} part
 * @param {Element} element
 * @param {Units} units
 * @param {number} stitches
 * @param {Tell} tell
 */
function ofPart(piece, part, element, units, stitches, tell) {
  const here = piece.parts.filter((p) => p.panel === part.panel);
  const index = here.indexOf(part);
  const [before, after] = [here[index - 1], here[index + 1]];
  const turn = element.sentences.flatMap((s) => s.gaps).find((g) => g.word === "turn");
  const siblings = piece.parts.filter((p) => p.element === element.name).length;
  /** @param {number} by */
  const turned = (by) => tell("change", { label: `turning ${element.name}`, edits: [set(element.name, "turn", withinTurn(Number(turn?.value) + by))] });
  return html`<nav class="leaf-through" aria-label="Other parts">
      ${before ? html`<button class="leaf" @click=${() => tell("choose", before.name)}>‹ ${before.name}</button>` : html`<span></span>`}
      ${after ? html`<button class="leaf" @click=${() => tell("choose", after.name)}>${after.name} ›</button>` : nothing}</nav>
    <h1>${capital(part.name)}</h1>
    <p class="soft">${capital(element.kind)}, ${showLength(part.bounds[2] - part.bounds[0], units)} by ${showLength(part.bounds[3] - part.bounds[1], units)},
      ${stitches.toLocaleString("en-GB").replace(",", " ")} stitches${siblings > 1 ? html`.<br>What is written here holds for all ${siblings} of ${element.name}.` : "."}</p>
    ${sentences(element, units, tell)}
    <ul class="skeins" aria-label="Its threads">${part.threads.map((t) => html`<li><svg class="skein" viewBox="0 0 46 26" aria-hidden="true">
      <rect width="46" height="26" rx="12" fill=${t.colour}></rect><path class="strands" d="M9 1v24M15 1v24M21 1v24M27 1v24M33 1v24M39 1v24"></path></svg>${t.name}</li>`)}</ul>
    <div class="row">
      ${typeof turn?.value === "number" ? html`<button class="may" @click=${() => turned(-TURN)}>Turn left ${TURN}°</button>
        <button class="may" @click=${() => turned(TURN)}>Turn right ${TURN}°</button>` : nothing}
      <button class="may" @click=${() => tell("choose", "")}>See the whole piece</button></div>`;
}

/**
 * @param {Element} element
 * @param {Units} units
 * @param {Tell} tell
 */
function sentences(element, units, tell) {
  const filled = (/** @type {CustomEvent} */ event) =>
    tell("change", { label: `${event.detail.word === "at" ? "moving" : "changing"} ${element.name}`, edits: [set(element.name, event.detail.word, event.detail.value)] });
  return html`<div class="ruled" @filled=${filled}>${element.sentences.map((sentence) => html`<p>${runs(sentence).map(({ text, gap }) => gap
    ? html`<festoon-blank .gap=${gap} .spot=${gap.word === "at" ? standsAt(element) : null} units=${units} told=${element.name}></festoon-blank>`
    : text)}</p>`)}</div>`;
}

/**
 * Hoopings: how many, why not fewer, and in what order.
 * @param {import("./types.js").Hoopings} division
 * @param {number} chosen
 * @param {Tell} tell
 */
export function hoopings(division, chosen, tell) {
  const count = division.hoopings.length;
  return html`<h1>${capital(numberWord(count))} ${count === 1 ? "hooping" : "hoopings"}</h1>
    ${division.record.fewest_proven ? html`<p class="short">${seal("sound")}<b class="word sound">${division.headline}</b></p>` : html`<p class="lead">${division.headline}</p>`}
    ${division.reasons.map((reason) => html`<p>${reason}</p>`)}
    <h2>In what order, and why</h2>
    <ol class="order">${division.hoopings.map(({ record, blocks, reason, minutes }) => html`<li class=${record.number === chosen ? "chosen" : ""}>
      <button class="hoop-row" aria-pressed=${record.number === chosen} @click=${() => tell("hooping", record.number)}>
        <span class="num">${record.number}</span><span><b>${capital(listed(blocks.map((b) => b.told)))}.</b> <span class="soft">${reason}</span>
        ${record.number === chosen ? html`<span class="more">${record.stitches.toLocaleString("en-GB").replace(",", " ")} stitches, ${Math.ceil(minutes)} minutes. Crosses: ${record.marks.map((m) => m.name).join(", ")}.</span>` : nothing}</span></button></li>`)}</ol>
    ${division.notes.map((note) => html`<p class="soft">${note}</p>`)}
    <p class="tally">About ${Math.ceil(division.minutes)} minutes at the machine in all.</p>`;
}

/**
 * Proof: findings as sentences, worst first.
 * @param {import("./types.js").Proof} found
 * @param {number} shown
 * @param {Tell} tell
 */
export function proof(found, shown, tell) {
  const count = (/** @type {string} */ v) => found.findings.filter((f) => f.verdict === v).length;
  const [wont, look] = [count("will not work"), count("look again")];
  const head = wont ? `${capital(numberWord(wont))} ${wont === 1 ? "thing" : "things"} to put right`
    : look ? `${capital(numberWord(look))} ${look === 1 ? "place" : "places"} to look at again` : "All is sound";
  return html`<h1>${head}</h1>
    ${wont && look ? html`<p class="lead">And ${numberWord(look)} to look at again.</p>` : nothing}
    ${wont || look ? nothing : html`<p class="short">${seal("sound")}<b class="word sound">Nothing stands in the way of sewing it.</b></p>`}
    <ul class="finds">${found.findings.map((finding, index) => html`<li class="find ${sealOf(finding.verdict)} ${index === shown ? "chosen" : ""}">${seal(finding.verdict)}
      <div><b class="word ${sealOf(finding.verdict)}">${wordOf(finding.verdict)}</b>
      <p class="serif">${finding.reason}</p>${finding.remedy ? html`<p>${finding.remedy}</p>` : nothing}
      <p class="soft small">${[finding.where.told, finding.figure && `found ${finding.figure}`, finding.limit && `limit ${finding.limit}`, finding.source].filter(Boolean).join(" · ")}</p>
      ${finding.where.at ? html`<button class="may" aria-pressed=${index === shown} @click=${() => tell("finding", index)}>Show me<span class="vh">: ${finding.where.told}</span></button>` : nothing}</div></li>`)}</ul>
    ${found.told.map((told) => html`<p>${told}</p>`)}`;
}

/**
 * Sheets: the files that the piece comes to.
 * @param {import("./types.js").Files} files
 * @param {string} chosen
 * @param {Tell} tell
 */
export function sheets(files, chosen, tell) {
  return html`<h1>Sheets and files</h1>
    ${files.refused.map((told) => html`<p class="short">${seal("will not work")}<span>${told}</span></p>`)}
    ${files.files.length ? html`<p class="lead">Print the sheets at full size, without fitting them to the page.</p>
    <p><a class="do" href="/api/files.zip" download>Download everything</a></p>
    <h2>To look at and print</h2>${fileList(files.files.filter((f) => canShow(f.name)), chosen, tell)}
    <h2>For the machine, and the record</h2>${fileList(files.files.filter((f) => !canShow(f.name)), chosen, tell)}` : nothing}`;
}

/**
 * @param {{name: string, size: number}[]} files
 * @param {string} chosen
 * @param {Tell} tell
 */
function fileList(files, chosen, tell) {
  return html`<ul class="files">${files.map(({ name, size }) => {
    const address = `/api/files/${encodeURIComponent(name)}`;
    return html`<li class=${name === chosen ? "chosen" : ""}><span class="file-name">${name} <span class="soft small">${fileSize(size)}</span></span>
      ${canShow(name) ? html`<button class="may" aria-pressed=${name === chosen} @click=${() => tell("file", name)}>Look at it<span class="vh">: ${name}</span></button>
        <a class="may" href=${address} target="_blank">Open to print<span class="vh">: ${name}, in a window of its own</span></a>` : nothing}
      <a class="may" href=${address} download=${name}>Download<span class="vh"> ${name}</span></a></li>`;
  })}</ul>`;
}

/** @param {string} name */
export const canShow = (name) => /\.(pdf|png|svg)$/i.test(name);

/** @param {number} bytes */
function fileSize(bytes) {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** @param {string} text */
function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** @param {string[]} names */
function listed(names) {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

const NUMBERS = ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** @param {number} n */
function numberWord(n) {
  return NUMBERS[n] ?? `${n}`;
}
