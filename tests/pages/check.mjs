// A page in a real browser: every log walked by click and by key, marks that survive a reload, what is saved of them, no
// request, no error, nothing wider than the window, nothing serious for a screen reader, paper as many sheets as stated.
//
// node check.mjs PAGE.html MARKS.txt [SCREENSHOTS]
//
// PAGE.html is what `pithward draw` wrote; MARKS.txt is written with what the page saves of its marks. With a directory for
// screenshots, each view is left there to be looked at.

import assert from "node:assert/strict";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [, , file, marksFile, shots] = process.argv;
const page_url = pathToFileURL(resolve(file)).href;
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const browser_path = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find(existsSync);
assert.ok(browser_path, "no Chromium: install Debian's chromium");
const profile = mkdtempSync(join(tmpdir(), "pages-"));

const context = await chromium.launchPersistentContext(profile, {
  executablePath: browser_path,
  headless: true,
  viewport: { width: 360, height: 740 },
  acceptDownloads: true,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
});
const wrong = [];
const requests = [];
const opened = async (options) => {
  const page = await context.newPage();
  page.on("console", (message) => { if (message.type() === "error") wrong.push(message.text()); });
  page.on("pageerror", (error) => wrong.push(String(error)));
  page.on("request", (request) => {
    const url = request.url();
    if (url !== page_url && !url.startsWith("data:")) requests.push(url);
  });
  if (options?.colorScheme) await page.emulateMedia({ colorScheme: options.colorScheme });
  const from = Date.now();
  await page.goto(page_url, { waitUntil: "load" });
  return [page, Date.now() - from];
};
const shot = async (page, name, options) => {
  if (shots) await page.screenshot({ path: join(shots, `${name}.png`), ...options });
};

try {
  // Small enough to be sent to a phone.
  const bytes = statSync(file).size;
  assert.ok(bytes < 2e6, `${bytes} bytes`);
  const [page, took] = await opened();
  console.log(`page: ${bytes} bytes, opened in ${took} ms`);

  // Nothing wider than the window, light and dark.
  for (const width of [360, 800, 1400]) {
    await page.setViewportSize({ width, height: 900 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= width, `at ${width} px the page is ${wide} px wide`);
    const over = await page.evaluate(() => Array.from(document.querySelectorAll("main *, header *"))
      .filter((it) => it.checkVisibility?.() && !it.closest("svg") && !it.closest(".said") && !it.classList.contains("mark"))
      .filter((it) => it.getBoundingClientRect().right > innerWidth + 1).map((it) => it.outerHTML.slice(0, 80)));
    assert.deepEqual(over, [], `at ${width} px`);
    await shot(page, `top-${width}`);
  }

  // Every log by click, to its end and back to the list; by key as far.
  await page.setViewportSize({ width: 360, height: 740 });
  const logs = await page.locator(".log").count();
  assert.ok(logs > 0, "no logs");
  let steps = 0;
  for (let n = 0; n < logs; n++) {
    const log = page.locator(".log").nth(n);
    const count = await log.locator(".step").count();
    steps += count;
    await log.locator(".walk").click();
    for (let step = 0; step < count; step++) {
      assert.equal(await page.locator(".step:visible").count(), 1, `log ${n}, step ${step}`);
      assert.ok(await log.locator(".step").nth(step).isVisible(), `log ${n}, step ${step} is not shown`);
      if (n === 0) await shot(page, `step-${step}-360`, { fullPage: true });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= 360, `log ${n}, step ${step}: ${wide} px wide`);
      if (step + 1 < count) await page.locator(".next").click();
    }
    assert.ok(await page.locator(".next").isDisabled(), "there is nothing behind the last step");
    await page.locator(".all").click();
    assert.equal(await page.locator(".walker:visible").count(), 0);
    await log.locator(".walk").focus();
    await page.keyboard.press("Enter");
    for (let step = 1; step < count; step++) await page.keyboard.press("ArrowRight");
    assert.ok(await log.locator(".step").nth(count - 1).isVisible(), `log ${n} by key`);
    await page.keyboard.press("ArrowLeft");
    assert.ok(await log.locator(".step").nth(count - 2).isVisible());
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".walker:visible").count(), 0);
  }
  console.log(`walked: ${logs} logs, ${steps} steps, by click and by key`);

  // Marks: all of the first log, one of the second; they survive a reload and are saved as lines.
  const boxes = page.locator(".log").nth(0).locator(".mark");
  const passes = await boxes.count();
  for (let n = 0; n < passes; n++) await boxes.nth(n).locator("xpath=following-sibling::label").click();
  if (logs > 1) {
    await page.locator(".log").nth(1).locator(".mark").first().focus();
    await page.keyboard.press("Space");
  }
  const marked = () => page.locator(".mark:checked").count();
  const before = await marked();
  assert.equal(before, passes + (logs > 1 ? 1 : 0));
  await page.reload({ waitUntil: "load" });
  assert.equal(await marked(), before, "marks after a reload");
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator(".save").click()]);
  const saved = readFileSync(await download.path(), "utf8");
  const lines = saved.trim().split("\n");
  assert.equal(lines[0], "pithward tally 1");
  assert.equal(lines.length, logs > 1 ? 4 : 3, saved);
  writeFileSync(marksFile, saved);
  console.log(`marked: ${before} passes, ${lines.length - 1} lines saved`);
  await shot(page, "marked-360", { fullPage: false });

  // Accessibility, light and dark, the whole page and one step of it.
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    for (const view of ["page", "step"]) {
      if (view === "step") await page.locator(".walk").first().click();
      await page.evaluate(axe);
      const found = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
      const serious = found.violations.filter((it) => ["serious", "critical"].includes(it.impact))
        .map((it) => `${it.id}: ${it.help}: ${it.nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(" | ")}`);
      assert.deepEqual(serious, [], `${colorScheme} ${view}`);
      await shot(page, `${view}-${colorScheme}`);
      if (view === "step") await page.keyboard.press("Escape");
    }
  }
  console.log("accessibility: nothing serious, light and dark");

  // Paper: A4 and Letter, at least a sheet for every log.
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, printBackground: false });
    const text = pdf.toString("latin1");
    const sheets = (text.match(/\/Type\s*\/Page[^s]/g) || []).length;
    assert.ok(sheets > logs, `${format}: ${sheets} sheets for ${logs} logs`);
    if (shots) writeFileSync(join(shots, `page-${format}.pdf`), pdf);
    console.log(`paper: ${format}, ${sheets} sheets`);
  }

  assert.deepEqual(wrong, [], "errors in the page");
  assert.deepEqual(requests, [], "requests that left the page");
  console.log("all good");
} finally {
  await context.close();
  rmSync(profile, { recursive: true, force: true });
}
