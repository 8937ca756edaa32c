// Works in a real editor as an architect does: node editor.mjs BROWSER EDITOR PROGRAM EXAMPLES EXTENSION [PICTURES]
// EDITOR is a server of the VS Code family that shows the editor in a browser, EXTENSION what `npm run package` made. Leaves with 1 and says
// what is wrong when anything is.
import { strict as assert } from "node:assert";
import { execFileSync, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { comes, launch, PATIENCE } from "./look.mjs";

const [browserPath, editor, program, examples, extension, pictures] = process.argv.slice(2);
const home = mkdtempSync(join(tmpdir(), "headlap-editor-"));
const library = join(home, "library");
cpSync(examples, library, { recursive: true });
const kept = ["--user-data-dir", join(home, "data"), "--extensions-dir", join(home, "extensions"), "--config", join(home, "config.yaml")];
mkdirSync(join(home, "data/Machine"), { recursive: true });
mkdirSync(join(home, "data/User"), { recursive: true });
writeFileSync(join(home, "config.yaml"), "auth: none\n");
writeFileSync(join(home, "data/Machine/settings.json"), JSON.stringify({ "headlap.path": program }));
writeFileSync(join(home, "data/User/settings.json"), JSON.stringify({
  "workbench.startupEditor": "none", "security.workspace.trust.enabled": false, "telemetry.telemetryLevel": "off",
  "extensions.autoUpdate": false, "extensions.autoCheckUpdates": false, "editor.minimap.enabled": false,
}));

const port = await new Promise((known) => {
  const probe = createServer().listen(0, "127.0.0.1", () => { const { port } = probe.address(); probe.close(() => known(port)); });
});
execFileSync(editor, [...kept, "--install-extension", extension], { stdio: "pipe" });
const server = spawn(editor, [...kept, "--auth", "none", "--bind-addr", `127.0.0.1:${port}`, "--disable-telemetry", "--disable-update-check"],
  { stdio: "ignore", cwd: home });
const up = async () => fetch(`http://127.0.0.1:${port}/healthz`).then((answer) => answer.ok, () => false);
const { browser, end } = await launch(browserPath);
let page;
try {
  await comes(up, true, "the editor is up");
  page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  await page.setViewportSize({ width: 1500, height: 950 });
  const picture = async (name) => { if (pictures) await page.screenshot({ path: join(pictures, `${name}.png`) }); };
  const press = async (...keys) => { for (const key of keys) await page.keyboard.press(key); };
  const on = (name) => readFileSync(join(library, name), "utf8");
  const line = (name, start) => 1 + on(name).split("\n").findIndex((own) => own.trimStart().startsWith(start));
  const at = () => page.locator("#status\\.editor\\.selection").innerText();
  const go = async (number, column = 1) => {
    await press("Control+g");
    await page.locator(".quick-input-widget input").first().fill(`:${number}:${column}`);
    await press("Enter");
    await comes(at, `Ln ${number}, Col ${column}`, "the cursor goes there");
  };
  const open = async (name) => {
    await page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).dblclick();
    await page.locator(".tab.active", { hasText: name }).waitFor();
    await page.locator(".view-lines .view-line").first().waitFor();
  };
  // How many findings the list of files shows at one.
  const found = async (name) => {
    const said = await page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).locator("[aria-label]").first().getAttribute("aria-label");
    return Number(/(\d+) problem/.exec(said)?.[1] ?? 0);
  };
  const save = async (name, wanted) => {
    await press("Control+s");
    await comes(() => Boolean(on(name)) && wanted(on(name)), true, `${name} is saved as it should be`);
  };

  // Findings under the words at fault, and in the list of files.
  await page.goto(`http://127.0.0.1:${port}/?folder=${library}`);
  await open("openings.detail");
  await comes(() => found("openings.detail"), 1, "the file has its one finding");
  // Words by their meaning, and the laps that follow from each piece.
  await page.locator(".view-line", { hasText: "laps low 25 mm" }).first().waitFor();
  const colors = (start) => page.locator(".view-line", { hasText: start }).first()
    .evaluate((line) => new Set([...line.querySelectorAll("span span")].map((word) => getComputedStyle(word).color)).size);
  await comes(async () => (await colors("piece\u00a0low")) >= 5, true, "words of a piece have the colors of what they are");
  await picture("opened");

  // What the word is.
  await go(line("openings.detail", "piece top"), 10);
  await press("Control+k", "Control+i");
  const hover = page.locator(".monaco-hover:not(.hidden) .hover-contents", { hasText: "top" }).first();
  await hover.waitFor();
  assert.match(await hover.innerText(), /flash-tape/);
  await picture("hover");
  await press("Escape");

  // The drawing beside the text, of the detail at the cursor.
  await page.locator(".editor-actions a[aria-label*='Show the Drawing']").click();
  const panel = page.frameLocator("iframe.webview").frameLocator("#active-frame");
  await comes(() => panel.locator("h1").innerText(), "O1-W1", "the panel shows the detail at the cursor");
  assert.equal(await panel.locator("svg").count(), 2);
  await picture("drawing");
  const second = 1 + on("openings.detail").split("\n").findIndex((own) => own.startsWith("detail O2-W1"));
  await page.locator(".tab", { hasText: "openings.detail" }).click();
  await go(second + 10);
  await comes(() => panel.locator("h1").innerText(), "O2-W1", "it follows the cursor");

  // A click on a piece goes to its line, in the drawing and in the list below it.
  const head = on("openings.detail").split("\n").findIndex((own, number) => number > second && own.trimStart().startsWith("piece head")) + 1;
  await panel.locator("button", { hasText: /^head$/ }).click();
  await comes(async () => (await at()).startsWith(`Ln ${head}, `), true, "the list leads to the line of a piece");
  const label = panel.locator("svg g.label", { hasText: /flap/ }).first();
  await label.click();
  const flap = on("openings.detail").split("\n").findIndex((own, number) => number > second && own.trimStart().startsWith("piece flap")) + 1;
  await comes(async () => (await at()).startsWith(`Ln ${flap}, `), true, "a label of the drawing leads to the line of its piece");
  await picture("clicked");

  // A proved cure, and the finding is gone.
  await press("F8");
  await page.locator(".zone-widget", { hasText: "reverse-lap" }).first().waitFor();
  await picture("finding");
  await press("Escape", "Control+.");
  const cure = page.locator(".action-widget .monaco-list-row", { hasText: "before" }).first();
  await cure.waitFor();
  await picture("cures");
  const title = (await cure.innerText()).trim();
  await press("Enter");
  await comes(() => found("openings.detail"), 0, `nothing is found after: ${title}`);
  await save("openings.detail", (text) => text !== readFileSync(join(examples, "openings.detail"), "utf8"));
  await picture("mended");

  // The next word.
  await go(line("openings.detail", "exposed"), 1);
  await press("End", "Enter");
  await page.keyboard.type("piece extra butyl-fl");
  await press("Control+Space");
  const offered = page.locator(".suggest-widget .monaco-list-row", { hasText: "butyl-flashing" }).first();
  await offered.waitFor();
  await picture("completion");
  await press("Enter");
  await save("openings.detail", (text) => text.includes("piece extra butyl-flashing\n"));

  // One layout.
  await press("Control+Shift+i");
  await save("openings.detail", (text) => /piece extra {2,}butyl-flashing\n/.test(text));
  await picture("formatted");

  // A name in every file.
  const everywhere = readdirSync(examples).filter((name) => on(name).includes("annex-wrap"));
  assert.ok(everywhere.length > 4, `many files name it: ${everywhere}`);
  await open("assemblies.detail");
  await go(line("assemblies.detail", "material annex-wrap"), 12);
  await press("F2");
  await page.locator(".rename-box input").fill("outer-wrap");
  await picture("rename");
  await press("Enter");
  // The editor saves what it changes; a file that is being written is empty for a moment.
  const renamed = (name) => on(name).includes("outer-wrap") && !on(name).includes("annex-wrap");
  await comes(() => everywhere.filter(renamed).length, everywhere.length, "the name is another one everywhere");
  await comes(() => found("assemblies.detail"), 1, "the file has the finding that it had");
  await picture("renamed");
} catch (problem) {
  if (page && pictures) await page.screenshot({ path: join(pictures, "wrong.png") });
  throw problem;
} finally {
  await end();
  const gone = new Promise((over) => server.on("exit", over));
  server.kill();
  await gone;
  rmSync(home, { recursive: true, force: true });
}
