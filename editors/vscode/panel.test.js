const assert = require("node:assert");
const test = require("node:test");
const { page, script } = require("./panel");

const drawn = {
  detail: 'A<b>"',
  section: "<svg><text>upper</text></svg>",
  elevation: "<svg></svg>",
  pieces: [{ name: "upper", range: {} }, { name: "<img>", range: {} }],
  statements: [{}, {}],
};

test("names of a file are text and never markup", () => {
  const html = page(drawn);
  assert.ok(html.includes("A&lt;b&gt;&quot;") && html.includes("&lt;img&gt;"));
  assert.ok(!html.includes("<img>"));
  assert.ok(html.includes(drawn.section));
});

test("the page may load nothing", () => {
  const html = page(drawn);
  assert.match(html, /default-src 'none'/);
  assert.doesNotMatch(html, /https?:|src=|href=/);
});

test("without a drawing the page says why", () => {
  assert.match(page(null), /Put the cursor into a detail/);
  assert.match(page(null, "A1 has too many edges"), /A1 has too many edges/);
});

test("a click on a piece, on its name, or in the list says which it was", () => {
  const told = [];
  let click;
  const page = { addEventListener: (_, listener) => (click = listener) };
  new Function("acquireVsCodeApi", "document", script)(() => ({ postMessage: (message) => told.push(message) }), page);
  const at = (parts) => click({ target: { closest: (selector) => Object.entries(parts).find(([part]) => selector.includes(part))?.[1] } });
  at({ "g.piece": { dataset: { n: "3" } } });
  at({ "g.label": { dataset: { n: "0" } } });
  at({ button: { dataset: { name: "upper" } } });
  at({});
  assert.deepStrictEqual(told, [{ number: 3 }, { number: 0 }, { name: "upper" }]);
});
