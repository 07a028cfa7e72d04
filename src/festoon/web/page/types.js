/**
 * What the server tells, as types. Lengths are mm, x to the right and y down from the panel's left upper corner.
 * @typedef {[number, number]} Spot
 * @typedef {"mm" | "inch"} Units
 * @typedef {{colour: string, name: string}} Thread
 * @typedef {{gap: string, word: string, value: unknown, shown: string}} Gap
 * @typedef {{text: string, gaps: Gap[]}} Sentence
 * @typedef {{role: string, points: Spot[], closed: boolean, label: string}} Line
 * @typedef {{name: string, at: Spot, word: string}} Handle
 * @typedef {{name: string, size: Spot, cloth: string, seam: number, lines: Record<string, Spot[]>}} Panel
 * @typedef {[number, number, number, number]} Bounds
 * @typedef {{name: string, element: string, panel: string, turn: number, mirrored: boolean, at: Spot | null, bounds: Bounds,
 *   outline: Spot[][], threads: Thread[], first: number, count: number}} Part
 * @typedef {{name: string, kind: string, panel: string, words: Record<string, unknown>, sentences: Sentence[],
 *   lines: Line[], handles: Handle[]}} Element
 * @typedef {{panel: string, at: Spot | null, elements: string[], hooping: number, told: string}} Where
 * @typedef {{verdict: string, where: Where, figure: string, limit: string, reason: string, remedy: string,
 *   source: string}} Finding
 * @typedef {{name: string, field: Spot, outer: Spot, inner: Spot, magnetic: boolean}} Hoop
 * @typedef {{revision: string, name: string, units: Units, paper: string, hoop: string, panels: Panel[], parts: Part[],
 *   elements: Element[], hoops: Hoop[], undo: string | null, redo: string | null, findings: Finding[]}} Piece
 * @typedef {{do: "set", element: string, word: string, value: unknown}} Edit
 * @typedef {{name: string, at: Spot, in_hoop: Spot}} Mark
 * @typedef {{number: number, panel: string, hoop: string, field: Spot, centre: Spot, turn: number, stitches: number,
 *   threads: Thread[], elements: string[], marks: Mark[], after: number[]}} HoopingRecord
 * @typedef {{record: HoopingRecord, blocks: {name: string, part: string, told: string}[], float_sides: string[],
 *   reason: string, minutes: number}} Hooping
 * @typedef {{revision: string, headline: string, reasons: string[], notes: string[],
 *   record: {count: number, lower_bound: number, fewest_proven: boolean}, hoopings: Hooping[], minutes: number}} Hoopings
 * @typedef {{panel: string, first: number, second: number, parts: [string, string], at: Spot, covariance: number[][],
 *   across_sd: number}} Meeting
 * @typedef {{panel: string, origin: Spot, size: Spot, picture: string}} Thickness
 * @typedef {{revision: string, verdict: string, findings: Finding[], told: string[], meetings: Meeting[],
 *   thickness: Thickness[]}} Proof
 * @typedef {{revision: string, files: {name: string, size: number}[], refused: string[]}} Files
 */
export {};
