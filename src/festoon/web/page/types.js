/**
 * What the server tells, as types. Lengths are mm, x to the right and y down from the panel's left upper corner.
 * @typedef {[number, number]} Spot
 * @typedef {"mm" | "inch"} Units
 * @typedef {{colour: string, name: string}} Thread
 * @typedef {"length" | "place" | "angle" | "number" | "count" | "choice" | "yes/no" | "words" | "part" | "line" | "thread" | "file" |
 *   "several"} Kind of blank
 * @typedef {{gap: string, word: string, value: unknown, shown: string, kind: Kind, choices: string[], usual: boolean}} Gap
 * @typedef {{text: string, gaps: Gap[]}} Sentence
 * @typedef {{role: string, points: Spot[], closed: boolean, label: string}} Line
 * @typedef {{material: "lace" | "ribbon" | "cloth", rings: Spot[][], label: string}} Area
 * @typedef {{name: string, at: Spot, word: string, along: Spot | null, value: number | null}} Handle where `along` is given the
 *   word is a length, `value` now, to which a move by d mm adds d . along; else it is a place
 * @typedef {{name: string, size: Spot, cloth: string, seam: number, lines: Record<string, Spot[]>, shaped: boolean,
 *   outline: Spot[][], finished: Spot[][], folds: Spot[][], loops: string[], own: string[],
 *   shape: string, sentences: Sentence[], edges: Sentence[]}} Panel `size` of the block of cloth; `outline`: what is cut from it
 * @typedef {[number, number, number, number]} Bounds
 * @typedef {{name: string, element: string, panel: string, turn: number, mirrored: boolean, at: Spot | null, bounds: Bounds,
 *   outline: Spot[][], threads: Thread[], first: number, count: number}} Part
 * @typedef {{name: string, kind: string, told: string, panel: string, may: string[], needs: string[],
 *   words: Record<string, unknown>, sentences: Sentence[], lines: Line[], areas: Area[], pins: Spot[], handles: Handle[]}} Element
 * @typedef {{word: string, told: string, wants: "part" | "element" | "place" | "line" | "file"}} Ask
 * @typedef {{number: number, kind: string, told: string, sentence: string, asks: Ask[], words: Record<string, unknown>,
 *   under: boolean}} Beginning
 * @typedef {{name: string, units: Units, size: Spot, cloth: string, field: Spot, magnetic: boolean, format: string, motifs: string[]}} Answers to the three questions
 * @typedef {{key: string, name: string, told: string, size: Spot, cloth: string}} Example
 * @typedef {{key: string, name: string, folder: string, opened: string, missing: boolean}} Recent
 * @typedef {{first: string | null, home: string, answers: Omit<Answers, "name" | "motifs">, examples: Example[],
 *   motifs: {key: string, name: string}[], recent: Recent[]}} Start
 * @typedef {{file: string, size: Spot, stitches: number, threads: number, wrong: string}} Motif
 * @typedef {{shared: boolean, address: string, others: string[], code: string | null, minutes: number, picture: string,
 *   devices: number}} Share how another device comes in
 * @typedef {{panel: string, at: Spot | null, elements: string[], hooping: number, told: string}} Where
 * @typedef {{told: string, element: string, word: string, value: number | Spot}} Mend
 * @typedef {{verdict: string, where: Where, figure: string, limit: string, reason: string, remedy: string,
 *   source: string, rule: string, about: string[], amount: {value: number, unit: string, least: boolean} | null,
 *   mends: Mend[], accepted: string, lapsed: string, key: string, group: number}} Finding
 * @typedef {{name: string, field: Spot, outer: Spot, inner: Spot, magnetic: boolean}} Hoop
 * @typedef {{panel?: string, at?: unknown, turn?: unknown, holds?: string[]}} Laid a hooping of the worker's own, as the piece
 *   file says it
 * @typedef {{turn: string | number[], laid: Laid[], order: string[]}} Dividing
 * @typedef {{revision: string, name: string, units: Units, paper: string, wearer: string | null, hoop: string, panels: Panel[],
 *   parts: Part[], elements: Element[], hoops: Hoop[], dividing: Dividing, undo: string | null, redo: string | null, findings: Finding[]}} Piece
 * @typedef {{do: "set", element: string, word: string, value: unknown}
 *   | {do: "add", element: Record<string, unknown>, before?: string | null}
 *   | {do: "copy", element: string, name?: string | null, by?: Spot}
 *   | {do: "remove", element: string}
 *   | {do: "order", element: string, to: number}
 *   | {do: "free", element: string}
 *   | {do: "add panel", panel: Record<string, unknown>}
 *   | {do: "remove panel", panel: string}
 *   | {do: "panel", panel: string, word: string, value: unknown}
 *   | {do: "piece", table: "piece" | "hooping", word: string, value: unknown}
 *   | {do: "bench", path: string, value: unknown}
 *   | {do: "accept", rule: string, panel: string, about: string[], amount?: number | null, note?: string}} Edit as the server has them
 * @typedef {{name: string, at: Spot, in_hoop: Spot}} Mark
 * @typedef {{number: number, panel: string, hoop: string, field: Spot, centre: Spot, turn: number, stitches: number,
 *   threads: Thread[], elements: string[], marks: Mark[], after: number[]}} HoopingRecord
 * @typedef {{record: HoopingRecord, blocks: {name: string, part: string, told: string}[], float_sides: string[],
 *   reason: string, minutes: number, laid: number | null}} Hooping laid: its place among those that the worker laid herself
 * @typedef {{revision: string, headline: string, reasons: string[], notes: string[],
 *   record: {count: number, lower_bound: number, fewest_proven: boolean}, hoopings: Hooping[], minutes: number,
 *   own_say: {sentence: string, kept: number, hoopings: number, changes: number, minutes: number, worst: number,
 *   worst_free: number} | null, findings: Finding[]}} Hoopings
 * @typedef {{panel: string, first: number, second: number, parts: [string, string], at: Spot, covariance: number[][],
 *   across_sd: number, told: string, within: string}} Meeting
 * @typedef {{panel: string, origin: Spot, size: Spot, picture: string, shades: number}} Thickness
 * @typedef {{revision: string, verdict: string, findings: Finding[], told: string[], meetings: Meeting[],
 *   thickness: Thickness[], levels: {layers: number, colour: string, told: string}[],
 *   unneeded: {rule: string, panel: string, about: string[], told: string}[]}} Proof
 * @typedef {{name: string, size: number, pages: Spot[]}} MadeFile pages: of each its width and height
 * @typedef {{revision: string, files: MadeFile[], refused: string[]}} Files
 * @typedef {{text: string, source: string}} Caution
 * @typedef {{name: string, kind: "care" | "mark" | "hoop" | "thread" | "check" | "sew" | "out", do: string, told: string[], minutes: number,
 *   thread: Thread | null, cautions: Caution[], done: string | null}} BenchStep
 * @typedef {{number: number, panel: string, holds: string, reason: string, file: string,
 *   hoop: {name: string, field: Spot, outer: Spot, inner: Spot}, centre: Spot, turn: number, cloth: Spot[],
 *   crosses: {name: string, in_hoop: Spot}[], needle: string, threads: Thread[], expected: string, steps: BenchStep[],
 *   minutes_left: number, note: string, trued: {file: string, readings: Record<string, Spot>} | null}} BenchHooping
 * @typedef {{revision: string, ticks: string, hooping: number, hoopings: BenchHooping[], minutes_left: number, lost: string[],
 *   refused: string[]}} Bench
 * @typedef {{verdict: string, judged: string, usable: boolean, short: string, told: string[]}} Judged
 * @typedef {Judged & {file: string | null, made: string}} Corrected
 */
export {};
