// Writes details in the page that needs no installation: node page.mjs BROWSER PAGE PROGRAM EXAMPLES
// Leaves with 1 and says what is wrong when anything is.
import { strict as assert } from "node:assert";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { accessible, comes, launch, open, sticksOut } from "./look.mjs";

const [browserPath, file, program, examples] = process.argv.slice(2);
const library = Object.fromEntries(readdirSync(examples).filter((name) => name.endsWith(".detail"))
  .map((name) => [name, readFileSync(join(examples, name), "utf8")]));

// The findings that the program has for files of a folder.
function ofProgram(files, names) {
  const folder = mkdtempSync(join(tmpdir(), "headlap-page-"));
  try {
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    // It leaves with 1 when it finds errors.
    const run = (args) => { try { return execFileSync(program, args, { cwd: folder, maxBuffer: 1 << 28 }); } catch (error) { return error.stdout; } };
    return JSON.parse(run(["review", ...names, "--format", "json", "--no-cache"])).findings;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

// Random edits as a hand makes them, from a seed: a letter, a number, a word or a line goes, doubles or trades places.
function edits(count, seed) {
  let state = seed;
  const random = (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
  const names = ["base.detail", "brick.detail", "link.detail", "openings.detail", "roof.detail", "walls.detail"];
  return Array.from({ length: count }, () => {
    let lines = library[names[random(names.length)]].split("\n");
    for (let times = 1 + random(2); times > 0; times -= 1) {
      const at = random(lines.length);
      const words = lines[at].split(" ");
      const word = random(words.length);
      const kinds = [
        () => lines.splice(at, 1),
        () => lines.splice(at, 0, lines[at]),
        () => { const other = random(lines.length); [lines[at], lines[other]] = [lines[other], lines[at]]; },
        () => { lines[at] = words.filter((_, index) => index !== word).join(" "); },
        () => { lines[at] = lines[at].replace(/\d+/, String(random(2000))); },
        () => { const cut = random(lines[at].length + 1); lines[at] = lines[at].slice(0, cut) + lines[at].slice(cut + 1); },
        () => { lines[at] = `${lines[at]} \u00fc\ud83d\ude00`; },
      ];
      kinds[random(kinds.length)]();
    }
    return lines.join("\n");
  });
}

const { browser, end } = await launch(browserPath);
try {
  await browser.setOffline(true);
  const { page, trouble } = await open(browser, file);
  const rules = () => page.locator("#list .finding").evaluateAll((all) => all.map((one) => one.dataset.rule));
  const has = (rule) => async () => (await rules()).includes(rule);
  // The page lets no script in that waits, so the waiting is done here.
  const opened = (name) => comes(() => page.evaluate(() => window.headlap?.latest()?.asked.name), name, `${name} is reviewed`);
  await opened("openings.detail");

  // What the page opens with is what the program finds in it.
  const shown = await page.evaluate(() => window.headlap.latest().report.findings);
  assert.deepEqual(shown, ofProgram(library, ["openings.detail"]), "the demo library has the findings of the program");
  assert.equal(await page.locator("#list .finding").count(), shown.length);
  const shownRules = await rules();
  const first = await page.locator("#list .finding").first().innerText();
  assert.ok(first.includes("Do this:") && first.includes("Why: finding"), first);
  assert.ok(await page.locator("#drawn svg").count() === 2, "section and elevation are drawn");
  assert.ok(await page.locator("#drawn svg").evaluateAll((all) => all.every((svg) => svg.getBoundingClientRect().height > 80)));

  // By keyboard alone: the first stop leads to the findings.
  await page.keyboard.press("Tab");
  await comes(() => page.evaluate(() => document.activeElement.textContent), "Skip to the findings", "the first stop leads to the findings");
  await page.keyboard.press("Enter");
  await comes(() => page.evaluate(() => document.activeElement.id), "findings", "it leads to the findings");

  // A mistake that is typed is seen, and goes when it is corrected.
  await page.click("#starter");
  await comes(() => page.inputValue("#file"), "details.detail", "the starter is open");
  await opened("details.detail");
  const before = await rules();
  assert.ok(!before.includes("syntax"));
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+End");
  await page.keyboard.type("\ndetial X1");
  await comes(has("syntax"), true, "a slip of the hand is found");
  assert.ok(await page.locator(".cm-lintRange-error").count() > 0, "it is marked in the text");
  for (let letter = 0; letter < "\ndetial X1".length; letter += 1) await page.keyboard.press("Backspace");
  await comes(has("syntax"), false, "and goes when it is taken back");
  assert.deepEqual(await rules(), before);

  // So is a mistake of building: the drawing of the detail at the cursor follows.
  await page.click("#demo");
  await opened("openings.detail");
  await page.selectOption("#item", { label: "O1-W1 (detail)" });
  await comes(() => page.textContent("#views-title"), "Drawings of O1-W1", "the detail at the cursor is drawn");
  const reversed = () => page.locator("#list .finding", { hasText: "in O1-W1" }).evaluateAll((all) => all.map((one) => one.dataset.rule));
  assert.ok(!(await reversed()).includes("reverse-lap"));
  const drawn = await page.locator("#drawn svg").first().innerHTML();
  const lines = library["openings.detail"].split("\n");
  const head = lines.findIndex((line) => line.trim().startsWith("piece head "));
  const flap = lines.findIndex((line) => line.trim().startsWith("piece flap "));
  [lines[head], lines[flap]] = [lines[flap], lines[head]];
  await page.evaluate((text) => window.headlap.put(text), lines.join("\n"));
  await comes(async () => (await reversed()).includes("reverse-lap"), true, "a flap behind its flashing is found");
  await comes(async () => await page.locator("#drawn svg").first().innerHTML() !== drawn, true, "the section changes");
  await page.keyboard.press("Control+z");
  await comes(async () => (await reversed()).includes("reverse-lap"), false, "and goes when it is taken back");
  await comes(async () => await page.locator("#drawn svg").first().innerHTML() === drawn, true, "the section is as before");

  // What is drawn is what the core draws, whether numbers have changed, or words, or pieces have come and gone.
  const asDrawn = () => page.evaluate(async () => {
    const { drawings } = await window.headlap.ask({});
    const shown = [...document.querySelectorAll("#drawn svg")];
    const fresh = document.createElement("template");
    fresh.innerHTML = drawings.map(({ svg }) => svg).join("");
    return shown.length === drawings.length && shown.every((svg, n) => svg.isEqualNode(fresh.content.children[n]));
  });
  const one = (lap, more, note = "") => `include "stock.detail"\ndetail D course {\n  piece low   wrap-open  up 0 mm to 600 mm\n`
    + `  piece high  wrap-open  up ${600 - lap} mm to 1200 mm${note}\n${more}}\n`;
  const third = "  piece third  wrap-open  up 900 mm to 1500 mm\n";
  await page.evaluate((text) => window.headlap.take({ "d.detail": text }), one(160, ""));
  await opened("d.detail");
  for (const text of [one(161, ""), one(120, ""), one(119, ""), one(119, third), one(118, third), one(90, ""), one(90, "", "  rolled"), one(160, "")]) {
    await page.evaluate((text) => window.headlap.put(text), text);
    await comes(() => page.evaluate(() => window.headlap.latest()?.asked.files["d.detail"]), text, "the edit is reviewed");
    assert.ok(await asDrawn(), `the drawing is that of:\n${text}`);
  }
  await page.click("#demo");
  await opened("openings.detail");

  // A finding leads to its words.
  const button = page.locator("#list .finding button").first();
  const line = Number((await button.textContent()).match(/line (\d+)/)[1]);
  await button.click();
  await comes(() => page.evaluate(() => Number(document.querySelector(".cm-activeLineGutter").textContent)), line, "the cursor is at the words");

  // Each file of the demo library has the findings of the program.
  for (const name of Object.keys(library)) {
    const answer = await page.evaluate((name) => window.headlap.ask({ name, line: 1 }), name);
    assert.deepEqual(JSON.parse(answer.report).findings, ofProgram(library, [name]), `${name} has the findings of the program`);
  }

  // A fix that was proved: asked for by its button, taken, and the finding is gone. Ctrl+Z takes it back.
  await page.evaluate((text) => window.headlap.put(text), lines.join("\n"));
  await comes(async () => (await reversed()).includes("reverse-lap"), true, "the flap is behind its flashing");
  const card = page.locator('#list .finding[data-rule="reverse-lap"]', { hasText: "in O1-W1" });
  await card.getByRole("button", { name: /^Show fixes/ }).click();
  const fix = card.locator("button.proved").first();
  await fix.waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.className), "proved", "the first fix has the focus");
  await fix.click();
  await comes(async () => (await reversed()).includes("reverse-lap"), false, "the fix clears its finding");
  await page.keyboard.press("Control+z");
  await comes(async () => (await reversed()).includes("reverse-lap"), true, "the fix is taken back");
  await page.evaluate((text) => window.headlap.put(text), library["openings.detail"]);
  await comes(async () => (await reversed()).includes("reverse-lap"), false, "the text is as it was");

  // A piece of the drawing, and its name beside it, lead to the line of the piece.
  await page.selectOption("#item", { label: "O1-W1 (detail)" });
  await comes(() => page.textContent("#views-title"), "Drawings of O1-W1", "the detail is drawn");
  const active = () => page.evaluate(() => document.querySelector(".cm-activeLine").textContent);
  await page.locator("#drawn svg").first().locator("g.label", { hasText: "(pan)" }).first().dispatchEvent("click");
  await comes(async () => /^\s*piece pan /.test(await active()), true, "a name leads to its piece");

  // What is known of a word: beside the pointer, and told when the keyboard asks.
  await page.keyboard.press("Home");
  await page.keyboard.press("Control+i");
  await comes(async () => (await page.textContent("#told")).includes("piece"), true, "the keyboard asks about a word");
  const known = await page.evaluate(() => window.headlap.about(1, 12));
  assert.equal(known, null, "a quoted path is no word");
  const pan = library["openings.detail"].split("\n").findIndex((line) => line.trim().startsWith("piece pan ")) + 1;
  const told = await page.evaluate((line) => window.headlap.about(line, 10), pan);
  assert.match(told.words, /^piece pan: /);
  assert.ok(told.words.includes("Outboard of it:") && told.words.includes("laps "), told.words);
  const lineOfPan = page.locator(".cm-line", { hasText: /^\s*piece pan / }).first();
  await lineOfPan.scrollIntoViewIfNeeded();
  const { x, y, height } = await lineOfPan.boundingBox();
  await page.mouse.move(x + 60, y + height / 2);
  await page.mouse.move(x + 62, y + height / 2);
  await page.locator("pre.about").first().waitFor();
  await page.mouse.move(0, 0);

  // The settings of a library hold here: what they switch off is not told, and what is wrong with them is.
  const [rule] = shownRules;
  const settings = (text) => page.evaluate(([files, text]) => window.headlap.take(files, "openings.detail", { "headlap.toml": text }), [library, text]);
  await settings(`[adjust.${rule}]\noff = true\nbecause = "for this test"\n`);
  await comes(async () => (await page.textContent("#told")).includes("headlap.toml holds"), true, "the settings are read");
  await opened("openings.detail");
  await comes(has(rule), false, `${rule} is off`);
  await settings("unit = \"us\"\n");
  await comes(async () => (await page.textContent("#count")).includes("headlap.toml, line 1: headlap.toml has no setting `unit`"), true, "wrong settings are told");
  await page.click("#demo");
  await opened("openings.detail");
  await comes(has(rule), true, `${rule} is back`);

  // What is saved: the drawings, the report, the text.
  const saved = async (id, count) => {
    const files = [];
    const all = new Promise((done) => page.on("download", function keep(file) {
      files.push(file);
      if (files.length === count) { page.off("download", keep); done(); }
    }));
    await page.click(id);
    await all;
    return Promise.all(files.map(async (file) => [file.suggestedFilename(), readFileSync(await file.path(), "utf8")]));
  };
  const drawings = await saved("#drawings", 2);
  assert.ok(drawings.every(([name, text]) => name.endsWith(".svg") && text.startsWith("<?xml")), "drawings are saved");
  assert.notEqual(drawings[0][0], drawings[1][0]);
  const [[, report]] = await saved("#report", 1);
  assert.ok(report.startsWith("<!DOCTYPE html>") && report.includes("reverse-lap"), "the report is saved");
  const [[name, text]] = await saved("#save", 1);
  assert.deepEqual([name, text], ["openings.detail", library["openings.detail"]], "the text is saved");

  // Its layout.
  await page.evaluate((text) => window.headlap.put(text), library["openings.detail"].replaceAll("  piece", "      piece"));
  await page.click("#tidy");
  await comes(() => page.evaluate(() => window.headlap.latest()?.asked.files["openings.detail"]), library["openings.detail"], "the layout is back");

  // Text of files stays text, whatever it says.
  await page.evaluate(() => window.headlap.take({ "<img src=x onerror=alert(1)>.detail": "detail \"<script>alert(1)</script>\" \u202e x\n" }));
  await opened("<img src=x onerror=alert(1)>.detail");
  assert.equal(await page.locator("main img, main script, header img").count(), 0, "nothing of it is an element");
  assert.ok(!/[\u202A-\u202E\u2066-\u2069]/.test(await page.innerText("#list")), "nothing steers the reader");

  // 200 random edits are found as the program finds them.
  const seed = Date.now() % 2 ** 31;
  const texts = edits(200, seed);
  // Half of a sign that is written with two, as an edit may leave it.
  texts[0] = `${texts[0]}\n# \ud83d\n`;
  const names = texts.map((_, index) => `edit-${index}.detail`);
  const all = { ...library, ...Object.fromEntries(names.map((name, index) => [name, texts[index]])) };
  const wanted = ofProgram(all, names);
  let longest = 0;
  let found = 0;
  for (const name of names) {
    const files = { ...library, [name]: all[name] };
    const [answer, took] = await page.evaluate(async ([files, name]) => {
      const start = performance.now();
      const answer = await window.headlap.ask({ files, name, line: 40 });
      return [answer, performance.now() - start];
    }, [files, name]);
    assert.equal(answer.trouble, null, `${name} of seed ${seed}`);
    const own = (findings) => findings.filter((finding) => finding.file === name);
    const is = own(JSON.parse(answer.report).findings);
    assert.deepEqual(is, own(wanted), `${name} of seed ${seed}:\n${all[name]}`);
    longest = Math.max(longest, took);
    found += is.length;
  }
  assert.ok(found > 200, `${found} findings in random edits`);

  // No window is too narrow, and nobody is left out, light or dark.
  await page.click("#demo");
  await opened("openings.detail");
  for (const width of [400, 800, 1200, 1700]) {
    await page.setViewportSize({ width, height: 900 });
    await comes(() => page.evaluate(() => window.innerWidth), width, "the window has its width");
    assert.deepEqual(await sticksOut(page), [], `fits a window of ${width} px`);
  }
  await page.setViewportSize({ width: 1200, height: 900 });
  for (const colorScheme of ["dark", "light"]) {
    await page.emulateMedia({ media: "screen", colorScheme });
    await comes(() => page.evaluate((scheme) => matchMedia(`(prefers-color-scheme: ${scheme})`).matches, colorScheme), true, `the page is ${colorScheme}`);
    await accessible(page, `the ${colorScheme} page`, { drawn: true });
  }
  const pdf = await page.pdf({ preferCSSPageSize: true });
  assert.ok(pdf.subarray(0, 5).toString() === "%PDF-" && pdf.length > 20_000, "it prints");
  assert.deepEqual(trouble, [], "no errors, dialogs or requests");
  console.log(`${found} findings in 200 random edits of seed ${seed} are those of the program; the slowest took ${Math.round(longest)} ms`);
} finally {
  await end();
}
