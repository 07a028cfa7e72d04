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

/** @returns {Promise<import("./types.js").Piece>} */
export const getPiece = () => getJson("/api/piece");
/** @returns {Promise<import("./types.js").Hoopings>} */
export const getHoopings = () => getJson("/api/hoopings");
/** @returns {Promise<import("./types.js").Proof>} */
export const getProof = () => getJson("/api/proof");
/** @returns {Promise<import("./types.js").Files>} */
export const getFiles = () => getJson("/api/files");

/**
 * @param {string} revision
 * @returns {Promise<ArrayBuffer>}
 */
export async function getStitches(revision) {
  return (await asked(`/api/stitches?revision=${encodeURIComponent(revision)}`)).arrayBuffer();
}

/**
 * @param {string} revision
 * @param {string} label
 * @param {Edit[]} edits
 * @returns {Promise<Piece>}
 */
export async function change(revision, label, edits) {
  return (await post("/api/change", { revision, label, edits })).json();
}

/**
 * @param {string} revision
 * @returns {Promise<Piece>}
 */
export const undo = async (revision) => (await post("/api/undo", { revision })).json();
/**
 * @param {string} revision
 * @returns {Promise<Piece>}
 */
export const redo = async (revision) => (await post("/api/redo", { revision })).json();

/**
 * Begins long work and follows it to its end.
 * @param {Work} what
 * @param {string} revision
 * @param {(told: string) => void} progress
 * @param {AbortSignal} signal stops the work
 */
export async function work(what, revision, progress, signal) {
  const { id } = await (await post("/api/work", { what, revision })).json();
  await new Promise((resolve, reject) => {
    const events = new EventSource(`/api/work/${id}/events`);
    /** @param {() => void} then */
    const end = (then) => {
      events.close();
      then();
    };
    signal.addEventListener("abort", () => {
      void asked(`/api/work/${id}`, { method: "DELETE" }).catch(() => undefined);
      end(() => reject(new Stopped("Stopped.")));
    });
    events.addEventListener("progress", (event) => {
      progress(sentenceOf(event));
    });
    events.addEventListener("done", () => end(() => resolve(undefined)));
    events.addEventListener("failed", (event) =>
      end(() => reject(new Refusal(sentenceOf(event), 422))),
    );
    events.addEventListener("stopped", () => end(() => reject(new Stopped("Stopped."))));
    events.onerror = () => {
      if (events.readyState === EventSource.CLOSED) end(() => reject(lost()));
    };
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
  const sentence = answer.status === 401 || answer.status === 403
    ? "This page has not been let in. Open the whole address that festoon open printed, with what follows the question mark."
    : told.sentence ?? "The server did not understand. Load the page again.";
  throw new Refusal(sentence, answer.status, told.choices ?? []);
}

function lost() {
  return new Refusal("Festoon does not answer. Your piece is kept; start festoon open again, then load this page.", 0);
}
