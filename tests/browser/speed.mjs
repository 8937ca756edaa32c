// From an edit to its picture in the page: node speed.mjs BROWSER PAGE
// A detail of 30 pieces; a number of it changes 100 times. Prints the middle and the 95th percentile: what the clock says until the
// picture is on the screen, and how long the processor worked for it in the page's main thread, all in all and in parts. What the processor
// did does not grow with what else the machine does. No test, since machines differ.
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
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("Performance.enable", { timeDomain: "threadTicks" });
  // Milliseconds so far: all tasks, and what the browser does to lay out the picture.
  const worked = async () => {
    const { metrics } = await devtools.send("Performance.getMetrics");
    const of = (name) => 1000 * (metrics.find((metric) => metric.name === name)?.value ?? 0);
    return { all: of("TaskDuration"), layout: of("LayoutDuration") + of("RecalcStyleDuration") };
  };
  const took = [];
  const parts = { all: [], core: [], layout: [] };
  for (let edit = 0; edit < EDITS; edit += 1) {
    const lap = 100 + edit;
    const before = await worked();
    took.push(await page.evaluate(async (text) => {
      const drawn = document.querySelector("#drawn");
      const changed = new Promise((done) => {
        const watch = new MutationObserver(() => { watch.disconnect(); done(); });
        watch.observe(drawn, { childList: true, subtree: true, attributes: true, characterData: true });
      });
      const start = performance.now();
      window.headlap.put(text);
      await changed;
      // Until the picture is on the screen.
      await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
      return performance.now() - start;
    }, text(lap)));
    await comes(() => page.evaluate(() => window.headlap.latest() !== undefined), true, "the page is at rest");
    const after = await worked();
    for (const part of ["all", "layout"]) parts[part].push(after[part] - before[part]);
    // The same request once more, of which nothing is shown.
    await page.evaluate(() => window.headlap.ask({ do: "review" }));
    parts.core.push((await worked()).all - after.all);
  }
  const line = (what, times) => {
    times.sort((a, b) => a - b);
    const at = (part) => times[Math.floor(part * (times.length - 1))].toFixed(1);
    console.log(`${what}: median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms, longest ${at(1)} ms`);
  };
  console.log(`edit to picture, ${PIECES} pieces, ${EDITS} edits`);
  line("by the clock", took);
  line("processor, all", parts.all);
  line("processor, the core", parts.core);
  line("processor, layout of the page", parts.layout);
} finally {
  await end();
}
