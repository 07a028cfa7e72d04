/** Everything that is asked of the server, which lies at the page's own address. */

/** @typedef {import("./types.js").Edit} Edit */
/** @typedef {import("./types.js").Piece} Piece */
/** @typedef {"hoopings" | "proof" | "sheets"} Work */

/** What the server will not do, in a sentence; `choices` where the piece was changed elsewhere meanwhile. */
export class Refusal extends Error {
  /**
   * @param {string} sentence
   * @param {number} status
   * @param {string[]} choices
   */
  constructor(sentence, status, choices = []) {
    super(sentence);
    this.status = status;
    this.choices = choices;
  }
}

/** Work that was stopped by the one who began it. */
export class Stopped extends Error {}

let piece = new URLSearchParams(location.search).get("piece") ?? "";

/** From now on everything is asked of another piece. @param {string} key */
export function turnTo(key) {
  piece = key;
}

/**
 * What may be begun and opened.
 * @returns {Promise<import("./types.js").Start>}
 */
export const getStart = () => getJson("/api/start");
/** Where the picture of an example lies. @param {string} key */
export const examplePicture = (key) => `/api/start/examples/${encodeURIComponent(key)}.png`;
/** Where the picture of a motif of Festoon's own lies. @param {string} key */
export const ownMotifPicture = (key) => `/api/start/motifs/${encodeURIComponent(key)}.png`;
/**
 * Each gives the key of the piece that then lies open.
 * @param {import("./types.js").Answers} answers
 * @returns {Promise<string>}
 */
export const begin = async (answers) => (await (await post("/api/start/new", answers)).json()).key;
/** @param {string} example @returns {Promise<string>} */
export const takeExample = async (example) => (await (await post("/api/start/example", { example })).json()).key;
/** @param {string} folder @returns {Promise<string>} */
export const openFolder = async (folder) => (await (await post("/api/start/open", { folder })).json()).key;
/** @param {string} key */
export const forget = (key) => asked(`/api/start/recent/${encodeURIComponent(key)}`, { method: "DELETE" });
/** Where a piece is opened. @param {string} key */
export const pieceAddress = (key) => `/?piece=${encodeURIComponent(key)}#lay-out`;

/** Where something of the piece that the page shows lies. @param {string} path */
export const here = (path) => `/api/pieces/${encodeURIComponent(piece)}/${path}`;

/** @type {Promise<import("./types.js").Piece | null> | null} */
let pieceAhead = null;
/** @type {{revision: string, stitches: Promise<ArrayBuffer>} | null} */
let stitchesAhead = null;

/** @typedef {{piece: Piece, stitches: Promise<ArrayBuffer>}} Ahead the piece, and its stitching on its way */

/**
 * Asks for the piece and its stitching before there is a page to show them; null where there is no piece.
 * @returns {Promise<Ahead | null>}
 */
export async function lookAhead() {
  pieceAhead = askPiece();
  const told = await pieceAhead;
  if (!told) return null;
  stitchesAhead = { revision: told.revision, stitches: askStitches(told.revision) };
  stitchesAhead.stitches.catch(() => undefined); // told to whoever asks for them
  return { piece: told, stitches: stitchesAhead.stitches };
}

/**
 * The piece that the address names, or else the first that was opened; null where there is none.
 * @returns {Promise<import("./types.js").Piece | null>}
 */
export function getPiece() {
  const ahead = pieceAhead;
  pieceAhead = null;
  return ahead ?? askPiece();
}

async function askPiece() {
  piece ||= (await getStart()).first ?? "";
  return piece ? getJson(here("piece")) : null;
}
/** How another device comes in to this piece. @returns {Promise<import("./types.js").Share>} */
export const getShare = () => getJson(`/api/share?piece=${encodeURIComponent(piece)}`);
/** @returns {Promise<import("./types.js").Share>} */
export const newCode = async () => (await asked(`/api/share/code?piece=${encodeURIComponent(piece)}`, { method: "POST" })).json();
/** Sends every other device away. @returns {Promise<import("./types.js").Share>} */
export const endSharing = async () => (await asked("/api/share/devices", { method: "DELETE" })).json();
/** @returns {Promise<import("./types.js").Hoopings>} */
export const getHoopings = () => getJson(here("hoopings"));
/** @returns {Promise<import("./types.js").Proof>} */
export const getProof = () => getJson(here("proof"));
/** @returns {Promise<import("./types.js").Files>} */
export const getFiles = () => getJson(here("files"));

/** Where a file lies. @param {string} name */
export const fileAddress = (name) => here(`files/${encodeURIComponent(name)}`);
/**
 * Where the picture of a page lies, so many px across.
 * @param {string} name
 * @param {number} number
 * @param {number} across
 * @param {string} revision
 */
export const pagePicture = (name, number, across, revision) => `${fileAddress(name)}/pages/${number}.png?across=${across}&revision=${revision}`;
/** Where all files lie in one. */
export const allFiles = () => here("files.zip");

/**
 * Every way of beginning something on the sheet.
 * @returns {Promise<import("./types.js").Beginning[]>}
 */
export const getBeginnings = () => getJson("/api/techniques");
/** Where the picture of one lies. @param {number} number */
export const beginningPicture = (number) => `/api/techniques/${number}.png`;
/**
 * The stitch files in the piece's folder.
 * @returns {Promise<import("./types.js").Motif[]>}
 */
export const getMotifs = () => getJson(here("motifs"));
/**
 * Brings a stitch file into the piece; gives its name there.
 * @param {string} name
 * @param {ArrayBuffer} data
 * @returns {Promise<string>}
 */
export const sendMotif = async (name, data) => (await (await asked(here(`motifs?name=${encodeURIComponent(name)}`), { method: "POST", body: data })).json()).file;
/** Where the picture of one lies. @param {string} file */
export const motifPicture = (file) => here(`motifs/picture.png?file=${encodeURIComponent(file)}`);

/**
 * @param {string} revision
 * @returns {Promise<ArrayBuffer>}
 */
export function getStitches(revision) {
  const ahead = stitchesAhead;
  stitchesAhead = null;
  return ahead?.revision === revision ? ahead.stitches : askStitches(revision);
}

/** @param {string} revision */
async function askStitches(revision) {
  return (await asked(here(`stitches?revision=${encodeURIComponent(revision)}`))).arrayBuffer();
}

/**
 * @param {string} revision
 * @param {string} label
 * @param {Edit[]} edits
 * @returns {Promise<Piece>}
 */
export async function change(revision, label, edits) {
  return (await post(here("change"), { revision, label, edits })).json();
}

/**
 * @param {string} revision
 * @returns {Promise<Piece>}
 */
export const undo = async (revision) => (await post(here("undo"), { revision })).json();
/**
 * @param {string} revision
 * @returns {Promise<Piece>}
 */
export const redo = async (revision) => (await post(here("redo"), { revision })).json();

/** @returns {Promise<import("./types.js").Bench>} */
export const getBench = () => getJson(here("bench"));
/**
 * Where a picture of what lies in a hoop lies: "sewing" what it sews, "sewn" what was sewn there before.
 * @param {number} number
 * @param {string} name
 * @param {string} revision
 */
export const benchPicture = (number, name, revision) => here(`bench/${number}/${name}.png?revision=${revision}`);
/** Where the corrected file of a hooping lies. @param {number} number */
export const correctedAddress = (number) => here(`bench/${number}/corrected`);
/**
 * @param {import("./types.js").Bench} seen
 * @param {number} hooping
 * @param {string[]} steps
 * @param {boolean} done
 * @returns {Promise<import("./types.js").Bench>}
 */
export const tickSteps = async ({ revision, ticks }, hooping, steps, done) => (await post(here("bench/tick"), { revision, ticks, hooping, steps, done })).json();
/**
 * @param {import("./types.js").Bench} seen
 * @param {number} hooping
 * @param {Record<string, import("./types.js").Spot>} readings
 * @returns {Promise<import("./types.js").Judged>}
 */
export const judgeReadings = async ({ revision }, hooping, readings) => (await post(here("bench/judge"), { revision, hooping, readings })).json();
/**
 * @param {import("./types.js").Bench} seen
 * @param {number} hooping
 * @param {Record<string, import("./types.js").Spot>} readings
 * @returns {Promise<import("./types.js").Corrected>}
 */
export const trueHooping = async ({ revision }, hooping, readings) => (await post(here("bench/true"), { revision, hooping, readings })).json();

/**
 * Begins long work and follows it to its end.
 * @param {Work} what
 * @param {string} revision
 * @param {(told: string) => void} progress
 * @param {AbortSignal} signal stops the work
 */
export async function work(what, revision, progress, signal) {
  const { id } = await (await post(here("work"), { what, revision })).json();
  await new Promise((resolve, reject) => {
    const events = new EventSource(here(`work/${id}/events`));
    /** @param {() => void} then */
    const end = (then) => {
      events.close();
      then();
    };
    const stop = () => {
      void asked(here(`work/${id}`), { method: "DELETE" }).catch(() => undefined);
      end(() => reject(new Stopped("Stopped.")));
    };
    if (signal.aborted) stop(); // while it was being begun
    else signal.addEventListener("abort", stop);
    events.addEventListener("progress", (event) => {
      progress(sentenceOf(event));
    });
    events.addEventListener("done", () => end(() => resolve(undefined)));
    events.addEventListener("failed", (event) =>
      end(() => reject(new Refusal(sentenceOf(event), 422))),
    );
    events.addEventListener("stopped", () => end(() => reject(new Stopped("Stopped."))));
    events.onerror = () => end(() => reject(lost()));
  });
}

/** @param {Event} event */
function sentenceOf(event) {
  return event instanceof MessageEvent ? String(JSON.parse(event.data).sentence) : "";
}

/**
 * @param {string} path
 * @param {unknown} body
 */
function post(path, body) {
  return asked(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

/** @param {string} path */
async function getJson(path) {
  return (await asked(path)).json();
}

/**
 * @param {string} path
 * @param {RequestInit} [init]
 */
async function asked(path, init) {
  const answer = await fetch(path, { credentials: "same-origin", ...init }).catch(() => {
    throw lost();
  });
  if (answer.ok) return answer;
  const told = await answer.json().catch(() => ({}));
  throw new Refusal(told.sentence ?? "The server did not understand. Load the page again.", answer.status, told.choices ?? []);
}

/** What is told where the server does not answer. */
export function lost() {
  return new Refusal("Festoon does not answer. Your piece is kept; start festoon open again, then load this page.", 0);
}
