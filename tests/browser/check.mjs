// Opens reports in a real browser: node check.mjs BROWSER REPORT HOSTILE-REPORT
// Leaves with 1 and says what is wrong when anything is.
import { strict as assert } from "node:assert";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { PATIENCE, accessible, comes, cutOff, launch, open, sticksOut } from "./look.mjs";

const [browserPath, report, hostile] = process.argv.slice(2);
const { browser, end } = await launch(browserPath);

const visible = (page) => page.locator(".finding:visible").count();

// The least height of letters in drawings that are shown, px.
const leastLetters = (page) => page.evaluate(() => Math.min(...[...document.querySelectorAll(".finding .drawing svg:has(use)")].map((svg) => {
  const box = svg.viewBox.baseVal;
  const used = document.querySelector(svg.querySelector('use:not([href^="#bar-"])').getAttribute("href"));
  const sizes = [...used.querySelectorAll("g.label text")].map((t) => parseFloat(getComputedStyle(t).fontSize));
  return sizes.length === 0 ? Infinity : Math.min(...sizes) * svg.getBoundingClientRect().width / box.width;
})));

try {
  const { page, trouble } = await open(browser, report);
  const all = await page.locator(".finding").count();
  assert.ok(all > 0, "the report has findings");
  assert.equal(await visible(page), all, "all findings are shown at first");

  // By keyboard alone: the first stop leads to the findings, a box is switched with the space bar.
  await page.keyboard.press("Tab");
  await comes(() => page.evaluate(() => document.activeElement.textContent), "Skip to the findings", "the first stop leads to the findings");
  await page.keyboard.press("Enter");
  await comes(() => page.evaluate(() => location.hash), "#findings", "it leads to the findings");
  await page.keyboard.press("Tab");
  await comes(() => page.evaluate(() => document.activeElement.value), "error", "the next stop is the filter");
  const errors = await page.locator(".finding[data-level=error]").count();
  assert.ok(errors > 0 && errors < all, "the demo has errors and other findings");
  await page.keyboard.press("Space");
  await comes(() => visible(page), all - errors, "errors are hidden");
  await comes(() => page.locator("#shown").textContent(), `${all - errors} of ${all} findings shown`, "the count follows");
  // A link to a hidden finding shows it.
  const first = await page.locator(".finding[data-level=error]").first().getAttribute("id");
  await page.evaluate((id) => { location.hash = id; }, first);
  await comes(() => visible(page), all, "a link to a hidden finding shows it");
  const topic = await page.locator("select[name=topic] option").nth(1).getAttribute("value");
  await page.selectOption("select[name=topic]", topic);
  const ofTopic = await page.locator(`.finding[data-topic="${topic}"]`).count();
  await comes(() => visible(page), ofTopic, "one topic is shown");
  await page.fill("input[name=words]", "no such words anywhere");
  await comes(() => visible(page), 0, "nothing has such words");
  await comes(() => page.locator("#none").isVisible(), true, "an empty result says so");
  await page.click("#none button");
  await comes(() => visible(page), all, "the button shows all again");

  // Each drawing that is used is there, and has a size.
  const broken = await page.evaluate(() => [...document.querySelectorAll('figure svg > use:not([href^="#bar-"], [href$="-over"])')]
    .filter((use) => !document.querySelector(use.getAttribute("href")) || use.getBoundingClientRect().height < 50).length);
  assert.equal(broken, 0, "every figure shows its drawing");
  assert.ok(await page.locator("figure use").count() > 10);

  // Only levels that exist are offered.
  for (const level of await page.locator("input[name=level]").evaluateAll((boxes) => boxes.map((box) => box.value))) {
    assert.ok(await page.locator(`.finding[data-level=${level}]`).count() > 0, `the filter offers ${level}`);
  }

  // The front page shows every detail, and leads to it.
  const cards = await page.locator(".contact a").count();
  assert.equal(cards, await page.locator("article.detail").count(), "each detail has its thumbnail");
  await page.locator(".contact li:not(.found) a").first().click();
  await comes(() => page.locator("article.detail.clean details[open]").count(), 1, "a link opens what is folded");
  await comes(() => page.locator("article.detail.clean details[open] figure svg").count(), 2, "what is opened has its drawings");
  const blank = () => page.evaluate(() => [...document.querySelectorAll(".contact a, .sentences a")]
    .filter((card) => { const { top, bottom } = card.getBoundingClientRect(); return bottom > 0 && top < innerHeight; })
    .filter((card) => { const use = card.querySelector("use[href*='-core']"); return use && !document.querySelector(use.getAttribute("href")); }).length);
  await page.locator(".contact li").last().scrollIntoViewIfNeeded();
  await comes(blank, 0, "each thumbnail in view is drawn");

  // No window is too narrow, and letters of drawings stay legible.
  for (const width of [400, 800, 1400]) {
    await page.setViewportSize({ width, height: 900 });
    await comes(() => page.evaluate(() => window.innerWidth), width, "the window has its width");
    assert.deepEqual(await sticksOut(page), [], `fits a window of ${width} px`);
    assert.deepEqual(await cutOff(page), [], `no drawing is cut off in a window of ${width} px`);
    if (width < 600) assert.ok(await leastLetters(page) >= 11, `letters of ${await leastLetters(page)} px`);
    assert.equal(await page.locator(".side").isVisible(), width >= 1100, `the list at the side of ${width} px`);
  }
  await page.setViewportSize({ width: 1200, height: 900 });

  // On paper, and where words are looked for, all is there.
  const drawings = () => page.locator("article.detail figure").count();
  await page.keyboard.press("Control+f");
  await comes(drawings, 2 * cards, "all drawings are built");
  const again = await open(browser, report);
  const other = await again.page.pdf({ preferCSSPageSize: true });
  assert.equal(await again.page.locator("article.detail figure").count(), 2 * cards, "all drawings are printed");
  assert.ok(other.length > 50_000, "a page that was not scrolled prints");
  await again.page.close();
  const pdf = await page.pdf({ preferCSSPageSize: true });
  assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
  assert.ok(pdf.length > 50_000, "the print has its drawings");
  const pages = (pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? []).length;
  assert.ok(pages > 5 && pages <= 25, `the demo library prints on ${pages} pages`);
  await page.emulateMedia({ media: "print" });
  await comes(() => page.evaluate(() => matchMedia("print").matches), true, "the page is set for print");
  const badges = await page.locator(".level").evaluateAll((all) => all.map((b) => [getComputedStyle(b).color, getComputedStyle(b).borderTopWidth]));
  assert.ok(badges.every(([color, border]) => color === "rgb(0, 0, 0)" && parseFloat(border) >= 1), "badges print without background");
  await page.emulateMedia({ media: "screen", colorScheme: "dark" });
  await comes(() => page.evaluate(() => matchMedia("(prefers-color-scheme: dark)").matches), true, "the page is dark");
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)");
  assert.equal(await page.locator(".drawing").first().evaluate((e) => getComputedStyle(e).backgroundColor), "rgb(255, 255, 255)", "drawings stay on white");
  await accessible(page, "the dark report", { drawn: true });
  await page.emulateMedia({ media: "screen", colorScheme: "light" });
  await comes(() => page.evaluate(() => matchMedia("(prefers-color-scheme: light)").matches), true, "the page is light");
  await accessible(page, "the report", { drawn: true });
  // Letters of drawings stand on white, or are white on the black of a mark.
  const faint = await page.evaluate(() => {
    const light = (part) => (part /= 255) <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    const contrast = (fill) => {
      const [r, g, b] = fill.match(/\d+/g).map((part) => light(Number(part)));
      return 1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05);
    };
    const letters = [...document.querySelectorAll(".drawing text, .joint text")].map((text) => getComputedStyle(text).fill);
    return [...new Set(letters)].filter((fill) => fill !== "rgb(255, 255, 255)" && contrast(fill) < 4.5);
  });
  assert.deepEqual(faint, [], "letters of drawings are legible");
  assert.deepEqual(trouble, [], "no errors, dialogs or requests");

  // Text of files stays text.
  const bad = await open(browser, hostile);
  assert.equal(await bad.page.locator("script").count(), 1, "only the page's own script");
  const text = await bad.page.evaluate(() => document.body.textContent);
  assert.ok(text.includes("<script>alert(1)</script>"), "the title shows as text");
  assert.ok(!/[\u202A-\u202E\u2066-\u2069\u0000-\u0008]/.test(text), "nothing steers the reader");
  await accessible(bad.page, "the hostile report", { drawn: true });
  assert.deepEqual(bad.trouble, [], "nothing ran");

  // Without scripts it is a plain page.
  const plain = await chromium.launch({ executablePath: browserPath, timeout: PATIENCE, args: ["--no-sandbox", "--disable-gpu"] });
  const bare = await (await plain.newContext({ javaScriptEnabled: false })).newPage();
  bare.setDefaultTimeout(PATIENCE);
  await bare.goto(pathToFileURL(report).href);
  assert.equal(await visible(bare), all);
  assert.equal(await bare.locator("article.detail figure").count(), 2 * cards, "all drawings are there without scripts");
  assert.equal(await bare.locator("#filter:visible").count(), 0, "a filter that cannot work is not shown");
  await plain.close();
  console.log(`${all} findings on ${pages} printed pages looked at in ${(await browser.browser()?.version()) ?? "the browser"}`);
} finally {
  await end();
}
