const assert = require("node:assert");
const test = require("node:test");
const { wordPattern } = require("./language.json");

/** As an editor reads it: a plain pattern has no flags, and then knows no classes of letters. */
const pattern = new RegExp(wordPattern.pattern ?? wordPattern, `${wordPattern.flags ?? ""}g`);

test("a name is one word, whatever letters it has", () => {
  assert.deepStrictEqual("piece lower-2 wrap-open of W1.a up 0 mm".match(pattern), ["piece", "lower-2", "wrap-open", "of", "W1.a", "up", "mm"]);
  assert.deepStrictEqual("seal süd_seite to mörtel".match(pattern), ["seal", "süd_seite", "to", "mörtel"]);
});
