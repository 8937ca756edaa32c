// A picture of one part of a page: node picture.mjs BROWSER PAGE SELECTOR OUT
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [executablePath, file, selector, out] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath, args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"] });
const page = await browser.newPage({ viewport: { width: 900, height: 1000 } });
await page.goto(pathToFileURL(file).href);
const { x, y, width, height } = await page.locator(selector).first().evaluate((element) => {
  const box = element.getBoundingClientRect();
  return { x: box.x, y: box.y + scrollY, width: box.width, height: box.height };
});
await page.screenshot({ path: out, fullPage: true, clip: { x, y, width, height } });
await browser.close();
