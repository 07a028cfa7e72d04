/** The stages of the work in order. Each is fetched when it is first opened, or when the page has time. */

/** @typedef {import("./stage.js").Stage} Stage */
/** @typedef {{id: string, told: string, fetch: () => Promise<Stage>}} Sign what is known of a stage before it is there */

/** @type {Sign} */
const START = { id: "start", told: "Start", fetch: async () => (await import("./start.js")).start };

/** @type {Sign} */
export const LAY_OUT = { id: "lay-out", told: "Lay out", fetch: async () => (await import("./lay-out.js")).layOut };

/** @type {Sign[]} */
export const STAGES = [
  LAY_OUT,
  { id: "hoopings", told: "Hoopings", fetch: async () => (await import("./hoopings.js")).hoopings },
  { id: "proof", told: "Proof", fetch: async () => (await import("./proof.js")).proof },
  { id: "sheets", told: "Sheets", fetch: async () => (await import("./sheets.js")).sheets },
  { id: "bench", told: "Bench", fetch: async () => (await import("./bench.js")).bench },
];

/** What is known of the stage of that name, or else of the first. @param {string} id */
const signNamed = (id) => [START, ...STAGES].find((sign) => sign.id === id) ?? LAY_OUT;

/** The stage of that name, or the first. @param {string} id */
export const stageNamed = (id) => signNamed(id).fetch();

/** What is known of the stage that the address names. */
export const signOfAddress = () => signNamed(location.hash.slice(1));

/** The stage that the address names. */
export const stageOfAddress = () => signOfAddress().fetch();

/** Fetches all of them, so that none is waited for later; one that does not come now is asked for when it is opened. */
export function fetchAll() {
  for (const { fetch } of STAGES) fetch().catch(() => undefined);
}
