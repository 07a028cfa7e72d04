import assert from "node:assert/strict";
import test from "node:test";
import { accepting, entries, mending } from "../../src/festoon/web/page/reckon/found.js";

const finding = (words) => ({ rule: "gap", about: ["a"], key: "gap · front · a", group: 0, accepted: "", where: { panel: "front" }, amount: { value: 0.1, unit: "share", least: false }, ...words });

test("what says the same is told as one, what is accepted apart", () => {
  const all = [finding({}), finding({ group: 1 }), finding({ key: "b" }), finding({ accepted: "so" })];
  assert.deepEqual(entries(all).map((entry) => entry.indices), [[0, 2], [1], [3]]);
  assert.equal(entries(all)[0].worst, all[0]);
});

test("each is accepted once, as bad as the worst of its key", () => {
  const all = [finding({}), finding({ amount: { value: 0.3 } }), finding({ key: "other", about: ["b"], amount: { value: 0.2 } })];
  assert.deepEqual(accepting(all, all, "it will do"), [
    { do: "accept", rule: "gap", panel: "front", about: ["a"], amount: 0.3, note: "it will do" },
    { do: "accept", rule: "gap", panel: "front", about: ["b"], amount: 0.2, note: "it will do" },
  ]);
});

test("where less is worse, the least is accepted", () => {
  const all = [0.4, 0.2, 0.3].map((value) => finding({ amount: { value, unit: "mm", least: true } }));
  assert.equal(accepting([all[0]], all, "so").at(0).amount, 0.2);
});

test("taking it back names it and nothing else", () => {
  assert.deepEqual(accepting([finding({})], [finding({})], null), [{ do: "accept", rule: "gap", panel: "front", about: ["a"] }]);
});

test("a mend is an edit of an element, or of how it is divided", () => {
  assert.deepEqual(mending({ told: "", element: "stem", word: "tuck", value: 1.4 }), { label: "lengthening tuck of stem", edit: { do: "set", element: "stem", word: "tuck", value: 1.4 } });
  assert.deepEqual(mending({ told: "", element: "sprig", word: "at", value: [1, 2] }).label, "moving sprig");
  assert.deepEqual(mending({ told: "", element: "", word: "overlap", value: 3 }).edit, { do: "piece", table: "hooping", word: "overlap", value: 3 });
});
