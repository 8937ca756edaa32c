// A picture of one part of a page: node picture.mjs BROWSER PAGE SELECTOR OUT
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [executablePath, file, selector, out] = process.argv.slice(2);
const args = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"];
const browser = await chromium.launch({ executablePath, args });
const page = await browser.newPage({ viewport: { width: 1080, height: 1600 } });
page.setDefaultTimeout(300_000);
await page.goto(pathToFileURL(file).href);
// Everything beside it is hidden: a page of many drawings is taller than a picture can be, and this part shows drawings of the others.
await page.evaluate((selector) => {
  const wanted = document.querySelector(selector);
  for (let part = wanted; part !== document.body; part = part.parentElement) {
    for (const other of [...part.parentElement.children]) {
      if (other !== part && !other.matches(".store, style, script")) other.style.display = "none";
    }
  }
}, selector);
const box = () => page.evaluate((selector) => {
  const { x, y, width, height } = document.querySelector(selector).getBoundingClientRect();
  return { x, y: y + scrollY, width, height };
}, selector);
await page.setViewportSize({ width: 1080, height: Math.ceil((await box()).height) + 60 });
await page.screenshot({ path: out, clip: await box() });
await browser.close();
