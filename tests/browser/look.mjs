// What the checks of pages have in common: a browser of their own, patience, and eyes for what is not accessible.
import { strict as assert } from "node:assert";
import { createRequire } from "node:module";
import { readFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
// A machine that compiles beside it makes the browser wait for minutes.
export const PATIENCE = 300_000;

export async function launch(executablePath) {
  const profile = mkdtempSync(join(tmpdir(), "headlap-browser-"));
  const browser = await chromium.launchPersistentContext(profile, {
    executablePath,
    timeout: PATIENCE,
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
  const end = async () => { await browser.close(); rmSync(profile, { recursive: true, force: true }); };
  return { browser, end };
}

// A page whose errors, dialogs and requests are all kept.
export async function open(browser, file) {
  const page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  const trouble = [];
  page.on("console", (message) => { if (["error", "warning"].includes(message.type())) trouble.push(message.text()); });
  page.on("pageerror", (error) => trouble.push(String(error)));
  page.on("dialog", (dialog) => { trouble.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  page.on("request", (request) => { if (!/^(file|blob):/.test(request.url())) trouble.push(`request: ${request.url()}`); });
  await page.goto(pathToFileURL(file).href);
  return { page, trouble };
}

// What a key or a click brings about comes a moment after it; a slow machine makes the moment long. So wait for the state, and say what was
// there instead if it never comes.
export async function comes(read, wanted, name) {
  const end = Date.now() + PATIENCE;
  let is = await read();
  while (is !== wanted && Date.now() < end) {
    await new Promise((again) => setTimeout(again, 20));
    is = await read();
  }
  assert.equal(is, wanted, name);
}

// `drawn`: letters of drawings stand in the page as elements of their own, which axe does not decide in SVG.
export async function accessible(page, name, { drawn = false } = {}) {
  // What is far from the window has no place yet, and would seem to lie over what is near.
  await page.evaluate(() => document.querySelectorAll("body *").forEach((e) => {
    if (getComputedStyle(e).contentVisibility === "auto") e.style.contentVisibility = "visible";
  }));
  await page.evaluate(axe);
  const { violations, passes, incomplete } = await page.evaluate(() => window.axe.run(document));
  const told = violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html).join(" | ")}`);
  assert.deepEqual(told, [], `${name} is accessible`);
  // Lines of an editor are longer than its frame, and count as if they lay over the words beside it.
  const excused = (html) => drawn && (html.startsWith("<text") || /cm-line|class="(word|number|said|aside)"/.test(html));
  const nodes = incomplete.filter((v) => v.id === "color-contrast").flatMap((v) => v.nodes);
  const unsure = nodes.map((n) => n.html).filter((html) => !excused(html));
  assert.deepEqual(unsure, [], `${name} leaves no contrast open`);
  assert.ok(passes.length > 15, `axe looked at ${name}`);
}

// Drawings wider than their frame of which one cannot see that they go on, or whose far edge cannot be reached.
export const cutOff = (page) => page.evaluate(() => [...document.querySelectorAll(".drawing")]
  .filter((frame) => frame.scrollWidth > frame.clientWidth + 1)
  .filter((frame) => {
    const { overflowX, backgroundAttachment, backgroundImage } = getComputedStyle(frame);
    const shaded = backgroundAttachment.includes("local") && backgroundAttachment.includes("scroll") && backgroundImage.includes("gradient");
    const before = frame.scrollLeft;
    frame.scrollLeft = frame.scrollWidth;
    const reached = frame.querySelector("svg").getBoundingClientRect().right <= frame.getBoundingClientRect().right + 1;
    frame.scrollLeft = before;
    return !(overflowX === "auto" && shaded && reached && frame.tabIndex === 0);
  }).map((frame) => frame.getAttribute("aria-label") ?? frame.querySelector("title").textContent));

// What sticks out of the window, besides what scrolls by itself.
export const sticksOut = (page) => page.evaluate(() => [...document.querySelectorAll("body *")]
  .filter((e) => e.getBoundingClientRect().right > window.innerWidth + 1 && !e.closest(".wide, pre, .store, .skip, .unseen, .drawing, .joint, .thumb, .cm-editor"))
  .map((e) => e.outerHTML.slice(0, 120)).slice(0, 5));
