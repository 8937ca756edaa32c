const assert = require("node:assert");
const test = require("node:test");
const { page } = require("./panel");

const drawn = {
  detail: 'A<b>"',
  section: "<svg><text>upper</text></svg>",
  elevation: "<svg></svg>",
  pieces: [{ name: "upper", range: {} }, { name: "<img>", range: {} }],
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
