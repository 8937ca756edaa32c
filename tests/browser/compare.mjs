// Opens a comparison in a real browser: node compare.mjs BROWSER PAGE
// Leaves with 1 and says what is wrong when anything is.
import { strict as assert } from "node:assert";
import { accessible, comes, cutOff, launch, open, sticksOut } from "./look.mjs";

const [browserPath, file] = process.argv.slice(2);
const { browser, end } = await launch(browserPath);

// The least height of letters in drawings, px.
const leastLetters = (page) => page.evaluate(() => Math.min(...[...document.querySelectorAll(".drawing svg")].map((svg) => {
  const sizes = [...svg.querySelectorAll("text")].map((text) => parseFloat(getComputedStyle(text).fontSize));
  return Math.min(...sizes) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
})));

try {
  const { page, trouble } = await open(browser, file);
  assert.ok(await page.locator(".drawing").count() >= 2, "before and after");
  for (const width of [400, 800, 1400]) {
    await page.setViewportSize({ width, height: 900 });
    await comes(() => page.evaluate(() => window.innerWidth), width, "the window has its width");
    assert.deepEqual(await sticksOut(page), [], `fits a window of ${width} px`);
    assert.deepEqual(await cutOff(page), [], `no drawing is cut off in a window of ${width} px`);
    if (width < 600) assert.ok(await leastLetters(page) >= 11, `letters of ${await leastLetters(page)} px`);
  }
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.className), "drawing", "a drawing that scrolls has the focus");
  await accessible(page, "the comparison", { drawn: true });
  await page.emulateMedia({ colorScheme: "dark" });
  await comes(() => page.evaluate(() => matchMedia("(prefers-color-scheme: dark)").matches), true, "the page is dark");
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)");
  assert.equal(await page.locator(".drawing").first().evaluate((e) => getComputedStyle(e).backgroundColor), "rgb(255, 255, 255)", "drawings stay on white");
  await accessible(page, "the dark comparison", { drawn: true });
  await page.emulateMedia({ media: "print", colorScheme: "light" });
  const pdf = await page.pdf({ preferCSSPageSize: true });
  assert.ok(pdf.length > 10_000, "it prints with its drawings");
  assert.deepEqual(trouble, [], "no errors, dialogs or requests");
} finally {
  await end();
}
