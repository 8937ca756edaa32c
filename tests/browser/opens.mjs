// How long a report takes to open: node opens.mjs BROWSER REPORT [TIMES]
// Prints the work of the page's own thread until it stands, in ms, and of what it was.
import { launch } from "./look.mjs";
import { pathToFileURL } from "node:url";

const [browserPath, report, times = "5"] = process.argv.slice(2);
const { browser, end } = await launch(browserPath);
try {
  for (let n = 0; n < Number(times); n += 1) {
    const page = await browser.newPage();
    const session = await page.context().newCDPSession(page);
    await session.send("Performance.enable");
    const events = [];
    session.on("Tracing.dataCollected", ({ value }) => events.push(...value));
    await session.send("Tracing.start", { transferMode: "ReportEvents", categories: "devtools.timeline,toplevel,blink.user_timing" });
    await page.goto(pathToFileURL(report).href, { waitUntil: "load" });
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    const done = new Promise((over) => session.once("Tracing.tracingComplete", over));
    await session.send("Tracing.end");
    await done;
    const { metrics } = await session.send("Performance.getMetrics");
    const value = (name) => metrics.find((metric) => metric.name === name).value;
    const nav = await page.evaluate(() => { const [e] = performance.getEntriesByType("navigation"); const paint = performance.getEntriesByType("paint").map((p) => `${p.name} ${p.startTime.toFixed(0)}`); return { interactive: e.domInteractive, load: e.loadEventEnd, paint }; });
    const sums = {};
    const main = events.find((e) => e.name === "ParseHTML");
    for (const e of events) if (e.ph === "X" && main && e.tid === main.tid && e.pid === main.pid && e.cat.includes("devtools.timeline")) sums[e.name] = (sums[e.name] ?? 0) + e.dur / 1000;
    const top = Object.entries(sums).sort((a, b) => b[1] - a[1]).slice(0, 12).map(([k, v]) => `${k} ${v.toFixed(0)}`).join(", ");
    console.log(`task ${(1000 * value("TaskDuration")).toFixed(0)}, script ${(1000 * value("ScriptDuration")).toFixed(0)}, style ${(1000 * value("RecalcStyleDuration")).toFixed(0)}, layout ${(1000 * value("LayoutDuration")).toFixed(0)}, nodes ${value("Nodes")}; interactive ${nav.interactive.toFixed(0)}, load ${nav.load.toFixed(0)}, ${nav.paint}; ${top}`);
    await page.close();
  }
} finally {
  await end();
}
