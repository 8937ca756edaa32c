// From an edit to its picture in the page: node speed.mjs BROWSER PAGE
// A detail of 30 pieces; a number of it changes 100 times. Prints the middle and the 95th percentile; no test, since machines differ.
import { comes, launch, open } from "./look.mjs";

const [browserPath, file] = process.argv.slice(2);
const PIECES = 30;
const EDITS = 100;
const text = (top) => {
  const courses = Array.from({ length: PIECES - 1 }, (_, n) => {
    const low = n === 0 ? "" : `from ${n * 600} mm`;
    const high = n === PIECES - 2 ? "" : `to ${(n + 1) * 600 + (n === 3 ? top : 160)} mm`;
    return `  piece c${n}  wrap-open  up ${low && high ? `${n * 600} mm ${high}` : low || high}`;
  });
  return `include "stock.detail"\nassembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n`
    + `detail D course joins W {\n  piece deck  plywood  of W\n${courses.join("\n")}\n}\n`;
};

const { browser, end } = await launch(browserPath);
try {
  await browser.setOffline(true);
  const { page } = await open(browser, file);
  await page.waitForFunction(() => window.headlap);
  await page.evaluate((text) => window.headlap.take({ "d.detail": text }), text(160));
  await comes(() => page.evaluate(() => window.headlap?.latest()?.asked.name), "d.detail", "the detail is reviewed");
  // The cursor stands in the wall; the detail is what is drawn from here on.
  await page.selectOption("#item", { label: "D (detail)" });
  await comes(() => page.locator("#drawn svg").count(), 2, "it is drawn");
  const took = [];
  for (let edit = 0; edit < EDITS; edit += 1) {
    const lap = 100 + edit;
    took.push(await page.evaluate(async (text) => {
      const drawn = document.querySelector("#drawn");
      const changed = new Promise((done) => {
        const watch = new MutationObserver(() => { watch.disconnect(); done(); });
        watch.observe(drawn, { childList: true, subtree: true });
      });
      const start = performance.now();
      window.headlap.put(text);
      await changed;
      // Until the picture is on the screen.
      await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
      return performance.now() - start;
    }, text(lap)));
    await comes(() => page.evaluate(() => window.headlap.latest() !== undefined), true, "the page is at rest");
  }
  took.sort((a, b) => a - b);
  const at = (part) => took[Math.floor(part * (took.length - 1))].toFixed(0);
  console.log(`edit to picture, ${PIECES} pieces, ${EDITS} edits: median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms, longest ${at(1)} ms`);
} finally {
  await end();
}
