// The page: what is written is reviewed, and what was found is shown.

import * as core from "./core.js";
import * as editor from "./editor.js";
import * as files from "./files.js";
import * as findings from "./findings.js";
import { Drawing } from "./drawing.js";
import { hold } from "./patch.js";

const $ = (id) => document.getElementById(id);
await core.load(CORE);
const view = editor.view($("editor"));
// Each file of the library: the state of its editor, and where it came from.
const library = new Map();
// Its settings and rules, by their paths.
let toml = {};
let name = "";

const today = () => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
};

const keep = () => { if (library.has(name)) library.get(name).state = view.state; };
const request = (what) => ({
  do: what, name, line: editor.lineOf(view), today: today(), toml,
  files: Object.fromEntries([...library].map(([file, { state }]) => [file, (file === name ? view.state : state).doc.toString()])),
});

let waiting;
const tell = (words) => { $("told").textContent = words; };

// Readers hear the count when the writer pauses, and not at each letter.
function announce(words) {
  clearTimeout(waiting);
  waiting = setTimeout(() => { if ($("told").textContent !== words) tell(words); }, 900);
}

const go = (finding) => {
  if (finding.file !== name) open(finding.file);
  editor.go(view, finding.line, finding.column);
};
go.has = (file) => library.has(file);

// A card keeps the fixes that it shows; whoever takes one of an older text is shown those of the new one.
const mend = {
  async find(number) {
    const asked = { ...request("cures"), finding: number - 1 };
    const done = await core.ask(asked);
    for (const cure of done.cures ?? []) cure.of = asked.files[name];
    return done;
  },
  take(cure, number) {
    if (cure.of !== view.state.doc.toString()) {
      tell("The text has changed since. Ask for the fixes again.");
      $(`f${number}`)?.remove();
      review();
      return;
    }
    editor.change(view, cure.edits);
    tell(`${cure.title}: done.`);
  },
};

// The core says it in the marks of an editor's pop-up; here it is plain.
async function about(line, column) {
  const { about } = await core.ask({ ...request("about"), line, column });
  return about && { ...about, words: about.words.replace(/```(text)?\n?|\*\*|`/g, "").replace(/ +$/gm, "").trim() };
}

let busy = false;
let again = false;
let latest;

// One review after the other; changes that came meanwhile are reviewed together.
async function review() {
  if (busy) { again = true; return; }
  busy = true;
  do {
    again = false;
    const asked = request("review");
    const done = await core.ask(asked);
    if (!again) show(asked, done);
    await new Promise((next) => requestAnimationFrame(next));
  } while (again);
  busy = false;
}

function show(asked, done) {
  if (done.trouble) { $("count").textContent = done.trouble; latest = undefined; return; }
  const report = JSON.parse(done.report);
  const all = report.findings.map((finding, index) => ({ finding, number: index + 1, here: finding.file === name }));
  const here = all.filter((entry) => entry.here);
  latest = { asked, report };
  const count = findings.summary(report.summary);
  $("count").textContent = count;
  announce(`${count.slice(0, -1)} in ${name}${here.length < all.length ? " and what it includes" : ""}.`);
  findings.show($("list"), [...here, ...all.filter((entry) => !entry.here)], go, mend);
  editor.mark(view, here.filter(({ finding }) => finding.line && !finding.waived));
  offer(done.items, done.at);
  $("views-title").textContent = done.at ? `Drawings of ${done.at}` : "Drawings";
  statements = done.statements;
  draw(done.drawings);
}

// The items of the file; the one at the cursor is drawn.
let offered;
function offer(items, at) {
  const offers = JSON.stringify(items);
  if (offers !== offered) $("item").replaceChildren(...items.map(({ name, kind, line }) => new Option(`${name} (${kind})`, line)));
  $("item").selectedIndex = items.findIndex(({ name }) => name === at);
  offered = offers;
}

// The lines of the pieces that are drawn, and a way from a piece or its name to its line.
let statements = [];
const shown = new WeakMap();
$("drawn").addEventListener("click", (event) => {
  const group = event.target.closest("g.piece, g.label");
  const line = group && statements[Number(group.dataset.n)];
  if (line) editor.go(view, line);
});

function draw(drawings) {
  const drawn = $("drawn");
  if (drawings.length === 0) {
    drawn.replaceChildren("Nothing can be drawn yet: this file has no detail and no assembly that was understood.");
    return;
  }
  const before = [...drawn.children];
  hold(drawn, drawings.map(({ title, svg }, index) => {
    const figure = before[index] ?? empty();
    const [box, caption] = figure.children;
    if (shown.has(figure)) {
      shown.get(figure).become(svg);
    } else {
      shown.set(figure, new Drawing(svg));
      box.append(shown.get(figure).svg);
    }
    box.setAttribute("aria-label", title);
    if (caption.textContent !== title) caption.textContent = title;
    return figure;
  }));
}

function empty() {
  const [figure, box] = ["figure", "div"].map((name) => document.createElement(name));
  box.className = "drawing";
  box.tabIndex = 0;
  box.setAttribute("role", "group");
  figure.append(box, document.createElement("figcaption"));
  return figure;
}

// The cursor chooses what is drawn, so a new line asks anew as a new text does.
let line = 0;
function changed(text) {
  const before = line;
  line = editor.lineOf(view);
  if (text || line !== before) { keep(); review(); }
}

function open(file) {
  keep();
  name = file;
  view.setState(library.get(file).state);
  $("file").value = file;
  review();
}

// Opens a library in place of the one that was there.
function take(texts, first) {
  if (texts.size === 0) return;
  library.clear();
  toml = texts.toml ?? {};
  for (const [file, { text, handle }] of [...texts].sort(([a], [b]) => (a < b ? -1 : 1))) {
    library.set(file, { state: editor.state(text, { changed, about, tell }), handle });
  }
  $("file").replaceChildren(...[...library.keys()].map((file) => new Option(file)));
  name = "";
  open(library.has(first) ? first : library.keys().next().value);
  const settings = Object.keys(toml).some((file) => file === "headlap.toml" || file.endsWith("/headlap.toml"));
  tell(`${findings.counted(texts.size, "file")} opened${settings ? ", and headlap.toml holds for them" : ""}.`);
}

const built = (texts) => new Map(Object.entries(texts).map(([file, text]) => [file, { text }]));

async function attempt(what) {
  try { await what(); } catch (error) { tell(`That could not be done: ${error.message}`); }
}

$("file").addEventListener("change", () => open($("file").value));
$("item").addEventListener("change", () => editor.go(view, Number($("item").value)));
$("demo").addEventListener("click", () => take(built(DEMO), "openings.detail"));
$("starter").addEventListener("click", () => take(built(STARTER), "details.detail"));
$("new").addEventListener("click", () => {
  let number = 1;
  while (library.has(`new-${number}.detail`)) number += 1;
  const file = `new-${number}.detail`;
  keep();
  library.set(file, { state: editor.state('include "stock.detail"\n\n', { changed, about, tell }) });
  $("file").append(new Option(file));
  open(file);
});
$("folder").addEventListener("click", () => attempt(async () => {
  if (window.showDirectoryPicker) take(await files.folder());
  else $("pick").click();
}));
$("pick").addEventListener("change", () => attempt(async () => take(await files.picked($("pick").files))));
$("save").addEventListener("click", () => attempt(async () => tell(await files.save(name, view.state.doc.toString(), library.get(name).handle))));
$("tidy").addEventListener("click", () => attempt(async () => {
  const done = await core.ask({ do: "tidy", text: view.state.doc.toString() });
  if (done.trouble) return tell(done.trouble);
  if (done.text !== view.state.doc.toString()) editor.replace(view, done.text);
  tell(`${name} is in its layout.`);
}));
$("drawings").addEventListener("click", () => attempt(async () => {
  const done = await core.ask(request("drawings"));
  if (done.trouble || done.drawings.length === 0) return tell(done.trouble ?? "There is no drawing to save.");
  const plain = (words) => words.replace(/[^\p{L}\p{N}._-]+/gu, "-").slice(0, 100);
  for (const { title, svg } of done.drawings) files.download(`${plain(`${done.at}-${title.split(" ")[0].toLowerCase()}`)}.svg`, svg, "image/svg+xml");
  tell(`${findings.counted(done.drawings.length, "drawing")} of ${done.at} saved.`);
}));
$("report").addEventListener("click", () => attempt(async () => {
  const done = await core.ask(request("report"));
  if (done.trouble) return tell(done.trouble);
  files.download("headlap-report.html", done.page, "text/html");
  tell("The report is saved.");
}));

addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
addEventListener("dragleave", () => document.body.classList.remove("over"));
addEventListener("drop", (event) => {
  event.preventDefault();
  document.body.classList.remove("over");
  attempt(async () => {
    const texts = await files.dropped(event.dataTransfer);
    if (texts.size === 0) tell("Nothing of what was dropped is a file named *.detail.");
    take(texts);
  });
});

take(built(DEMO), "openings.detail");

// For scripts and tests: what the page holds, and what it last found.
window.headlap = {
  take: (texts, first, settings) => take(Object.assign(built(texts), { toml: settings }), first),
  put: (text) => editor.replace(view, text),
  about,
  ask: (what) => core.ask({ ...request("review"), ...what }),
  latest: () => (busy ? undefined : latest),
};
