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

/** The script in a page of its own: what it told the editor, and what somebody may do there. */
function run(detail, state) {
  const page = { told: [], moved: [], state };
  const api = {
    postMessage: (message) => page.told.push(message),
    getState: () => page.state,
    setState: (state) => (page.state = state),
  };
  const document = {
    addEventListener: (_, listener) => (page.click = listener),
    querySelector: () => detail && { textContent: detail },
  };
  const listen = (_, listener) => (page.scroll = listener);
  const names = ["acquireVsCodeApi", "document", "addEventListener", "scrollTo", "scrollX", "scrollY"];
  new Function(...names, script)(() => api, document, listen, (...to) => page.moved.push(to), 3, 40);
  return page;
}

test("a click on a piece, on its name, or in the list says which it was", () => {
  const { click, told } = run("A1");
  const at = (parts) => click({ target: { closest: (selector) => Object.entries(parts).find(([part]) => selector.includes(part))?.[1] } });
  at({ "g.piece": { dataset: { n: "3" } } });
  at({ "g.label": { dataset: { n: "0" } } });
  at({ button: { dataset: { name: "upper" } } });
  at({});
  assert.deepStrictEqual(told, [{ number: 3 }, { number: 0 }, { name: "upper" }]);
});

test("a drawing that is made anew stays where it was, and another one begins at its top", () => {
  const first = run("A1");
  first.scroll();
  assert.deepStrictEqual(run("A1", first.state).moved, [[3, 40]]);
  assert.deepStrictEqual(run("A2", first.state).moved, []);
  assert.deepStrictEqual(run(undefined, first.state).moved, []);
});
