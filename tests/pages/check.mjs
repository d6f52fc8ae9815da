// Pages in a real browser: every log walked by click and by key, marks that survive a reload, what is saved of them, every view
// at three widths, light and dark, without a request, an error or a thing wider than the window, nothing amiss for a screen
// reader, targets that a glove hits, and paper: every view on as many sheets of A4 and of Letter as the page says.
//
// node check.mjs PAGES MARKS.txt [SCREENSHOTS]
//
// PAGES is a directory of what `pithward draw` wrote: farmyard.html, with ranges and a bill; plain.html, the same job without
// either; awkward.html, with names and notes of all kinds; metric.html; one.html, a single log. MARKS.txt is written with what
// the farmyard's page saves of its marks. With a directory for screenshots, each view is left there to be looked at.

import assert from "node:assert/strict";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [, , pages, marksFile, shots] = process.argv;
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const browser_path = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find(existsSync);
assert.ok(browser_path, "no Chromium: install Debian's chromium");
const profile = mkdtempSync(join(tmpdir(), "pages-"));

// The printed width: A4 less its margins of 8 mm; the height that holds on Letter too.
const MM = 96 / 25.4;
const PAPER = { wide: Math.floor(194 * MM), high: 263.4 * MM };
// A page for 40 logs is small enough to be sent to a phone. How soon it opens is bounded generously: the machine may be busy.
const MOST_BYTES = 2e6;
const MOST_MS = 10_000;
const PAPERS = ["quote", "customer", "terms", "pack", "work-order"];

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

/// A page that is open, and what is asked of all.
const opened = async (name) => {
  const file = join(pages, `${name}.html`);
  const bytes = statSync(file).size;
  assert.ok(bytes < MOST_BYTES, `${name}: ${bytes} bytes`);
  const url = pathToFileURL(resolve(file)).href;
  const page = await context.newPage();
  page.on("console", (message) => { if (message.type() === "error") wrong.push(`${name}: ${message.text()}`); });
  page.on("pageerror", (error) => wrong.push(`${name}: ${error}`));
  page.on("dialog", (dialog) => { wrong.push(`${name}: ${dialog.message()}`); dialog.dismiss(); });
  page.on("request", (request) => {
    const to = request.url();
    if (to.split("#")[0] !== url && !to.startsWith("data:")) requests.push(to);
  });
  const from = Date.now();
  await page.goto(url, { waitUntil: "load" });
  const took = Date.now() - from;
  assert.ok(took < MOST_MS, `${name}: opened in ${took} ms`);
  console.log(`${name}: ${bytes} bytes, opened in ${took} ms`);
  const shot = async (view, options) => {
    if (shots) await page.screenshot({ path: join(shots, `${name}-${view}.png`), ...options });
  };
  const go = async (view) => {
    await page.evaluate((view) => { location.hash = view; }, view);
    await page.waitForFunction((view) => document.querySelector(".view.on")?.id === view, view);
  };
  const views = await page.locator(".view").evaluateAll((all) => all.map((view) => view.id));
  return { name, page, shot, go, views };
};

/// Nothing wider than the window, in any view.
const fits = async ({ name, page, shot, go }, views) => {
  for (const view of views) {
    await go(view);
    for (const width of [360, 800, 1400]) {
      await page.setViewportSize({ width, height: 900 });
      const over = await page.evaluate(() => {
        const wide = document.documentElement.scrollWidth;
        const all = Array.from(document.querySelectorAll("main *, .walker *"));
        const seen = all.filter((it) => it.checkVisibility?.() && !it.closest("svg") && !it.closest(".said")
          && !it.closest("thead") && !it.matches(".mark,.tick"));
        const out = seen.filter((it) => it.getBoundingClientRect().right > innerWidth + 1 || it.getBoundingClientRect().left < -1);
        return [wide > innerWidth ? [`the page is ${wide} px wide`] : [], out.map((it) => it.outerHTML.slice(0, 100))].flat();
      });
      assert.deepEqual(over, [], `${name}#${view} at ${width} px`);
      await shot(`${view}-${width}`, { fullPage: true });
    }
  }
  await page.setViewportSize({ width: 360, height: 740 });
};

/// Whatever is touched is 48 px high or more.
const holds_a_glove = async ({ name, page, go }, views) => {
  for (const view of views) {
    await go(view);
    const small = await page.evaluate(() => Array.from(document.querySelectorAll(".view.on :is(button, a, label)"))
      .filter((it) => it.checkVisibility?.() && it.getBoundingClientRect().height < 47.5).map((it) => it.outerHTML.slice(0, 100)));
    assert.deepEqual(small, [], `${name}#${view}`);
  }
};

/// What a screen reader needs, light and dark. Views that are not open are taken out first: they would be gone through too.
const reads_well = async ({ name, page, shot, go }, views) => {
  for (const view of views) {
    const [id, step] = view.split("/");
    await go(id);
    if (step) await page.locator(`#${id} .walk`).click();
    await page.evaluate(() => document.querySelectorAll(".view:not(.on)").forEach((other) => other.remove()));
    await page.evaluate(axe);
    for (const colorScheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme });
      const found = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
      const amiss = found.violations.filter((it) => it.impact !== "minor")
        .map((it) => `${it.id}: ${it.help}: ${it.nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(" | ")}`);
      assert.deepEqual(amiss, [], `${name}#${view}, ${colorScheme}`);
      await shot(`${view.replace("/", "-")}-${colorScheme}`);
    }
    await page.emulateMedia({ colorScheme: "light" });
    await page.reload({ waitUntil: "load" });
  }
  console.log(`${name}: nothing amiss for a screen reader in ${views.length} views, light and dark`);
};

/// How many sheets a PDF has.
const sheets_of = (pdf) => (pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) || []).length;

/// What is printed of a view is as many sheets as the page says, and no sheet is fuller than full.
const prints = async ({ name, page, go, views }, some) => {
  // Each sheet by itself, as it is laid out for paper.
  await page.emulateMedia({ media: "print" });
  await page.setViewportSize({ width: PAPER.wide, height: 1000 });
  for (const view of views) {
    await go(view);
    const over = await page.evaluate(({ wide, high }) => Array.from(document.querySelectorAll(".view.printed .sheet"))
      .map((sheet, n) => {
        const box = sheet.getBoundingClientRect();
        const out = Array.from(sheet.querySelectorAll("*")).filter((it) => it.checkVisibility?.() && !it.closest("svg")
          && !it.closest(".said") && !it.closest(".strip") && it.getBoundingClientRect().right > wide + 1);
        return box.height > high || out.length ? `sheet ${n}: ${box.height} px of ${high}, ${out[0]?.outerHTML.slice(0, 90)}` : "";
      }).filter(Boolean), PAPER);
    assert.deepEqual(over, [], `${name}#${view} on paper`);
  }
  await go("job");
  const full = await page.evaluate(() => Array.from(document.querySelectorAll(".log .sheet"))
    .map((sheet) => sheet.getBoundingClientRect().height));
  await page.emulateMedia({ media: null });
  await page.setViewportSize({ width: 360, height: 740 });
  const told = [];
  for (const view of some) {
    await go(view);
    const stated = await page.evaluate((view) => {
      const data = document.getElementById(view).dataset;
      return Number(data.cards ?? data.sheets);
    }, view);
    for (const format of ["A4", "Letter"]) {
      const pdf = await page.pdf({ format, printBackground: false });
      if (shots) writeFileSync(join(shots, `${name}-${view}-${format}.pdf`), pdf);
      assert.equal(sheets_of(pdf), stated, `${name}#${view}: sheets of ${format}`);
    }
    told.push(`${view === "job" ? "list and cards" : view} ${stated}`);
  }
  const mean = full.reduce((sum, high) => sum + high, 0) / full.length / PAPER.high;
  console.log(`${name}: sheets of A4 and of Letter: ${told.join(", ")}; sheets of logs ${Math.round(100 * mean)} % full`);
};

/// Every log by click, to its end and back to the list; by key as far. The first two by the browser's own mouse and keyboard,
/// the others by the same events sent to the page, which takes a hundredth of the time.
const walks = async ({ name, page, shot, go }) => {
  await go("job");
  const logs = page.locator(".log");
  const count = await logs.count();
  assert.ok(count > 0, "no logs");
  let walked = 0;
  for (let n = 0; n < Math.min(count, 2); n++) {
    const log = logs.nth(n);
    const steps = await log.locator(".step").count();
    await page.locator(`#job a[href="#log-${n + 1}"]:not(.go-on)`).click();
    await log.locator(".walk").click();
    for (let step = 0; step < steps; step++) {
      if (n === 0) await shot(`step-${step}`);
      if (step + 1 < steps) await page.locator(".walker .next").click();
    }
    assert.ok(await log.locator(".step").nth(steps - 1).isVisible(), `log ${n} by click`);
    assert.ok(await page.locator(".walker .next").isDisabled(), "there is nothing behind the last step");
    await page.locator(".walker .all").click();
    assert.equal(await page.locator(".walker:visible").count(), 0);
    await log.locator(".walk").focus();
    await page.keyboard.press("Enter");
    for (let step = 1; step < steps; step++) await page.keyboard.press("ArrowRight");
    assert.ok(await log.locator(".step").nth(steps - 1).isVisible(), `log ${n} by key`);
    await page.keyboard.press("ArrowLeft");
    assert.ok(await log.locator(".step").nth(steps - 2).isVisible());
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".walker:visible").count(), 0);
    await log.locator(".back").click();
    assert.ok(await page.locator("#job").isVisible());
  }
  for (let n = 0; n < count; n++) {
    await go(`log-${n + 1}`);
    const [steps, amiss] = await page.evaluate((last) => {
      const log = document.querySelector(".view.on");
      const walker = document.querySelector(".walker");
      const steps = Array.from(log.querySelectorAll(".step"));
      const amiss = [];
      const seen = () => steps.filter((step) => step.checkVisibility());
      const size = (it) => parseFloat(getComputedStyle(it).fontSize);
      const stands = (n, how) => {
        const all = seen();
        if (all.length !== 1 || all[0] !== steps[n]) amiss.push(`step ${n} by ${how}: ${all.length} are shown`);
      };
      log.querySelector(".walk").click();
      for (let n = 0; n < steps.length; n++) {
        stands(n, "click");
        if (document.documentElement.scrollWidth > innerWidth) amiss.push(`step ${n} is ${document.documentElement.scrollWidth} px wide`);
        const height = steps[n].querySelector(".height");
        const texts = height ? [...steps[n].querySelectorAll("*"), ...walker.querySelectorAll("*"), log.querySelector("h1")] : [];
        const larger = texts.filter((it) => !it.closest("svg") && !it.closest(".height") && size(it) >= size(height));
        if (larger.length) amiss.push(`step ${n}: larger than the height: ${larger[0].outerHTML.slice(0, 90)}`);
        if (n + 1 < steps.length) walker.querySelector(".next").click();
      }
      if (!walker.querySelector(".next").disabled) amiss.push("something is behind the last step");
      if (walker.querySelector(".onward").checkVisibility() === last) amiss.push("the next log, but for the last");
      walker.querySelector(".all").click();
      if (walker.checkVisibility()) amiss.push("the walk goes on");
      const press = (key) => document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
      log.querySelector(".walk").click();
      for (let n = 0; n < steps.length; n++) {
        stands(n, "key");
        press("ArrowRight");
      }
      stands(steps.length - 1, "key");
      press("Escape");
      if (walker.checkVisibility()) amiss.push("Escape leaves it");
      return [steps.length, amiss];
    }, n + 1 === count);
    assert.deepEqual(amiss, [], `${name}, log ${n + 1}`);
    walked += steps;
  }
  if (count > 1) {
    // From the last step of a log straight to the first of the next.
    await go("log-1");
    await logs.nth(0).locator(".walk").click();
    for (let step = await logs.nth(0).locator(".step").count(); step > 1; step--) await page.keyboard.press("PageDown");
    await page.locator(".walker .onward").click();
    await logs.nth(1).locator(".step").first().waitFor({ state: "visible" });
    assert.equal(await page.locator(".step:visible").count(), 1);
    await page.keyboard.press("Escape");
  }
  console.log(`${name}: walked ${count} logs, ${walked} steps, by click and by key`);
};

/// Marks: all of the first log, one of the second; they survive a reload and are saved as lines.
const marks = async ({ name, page, shot, go }) => {
  const logs = await page.locator(".log").count();
  await go("log-1");
  const boxes = page.locator("#log-1 .mark");
  const passes = await boxes.count();
  for (let n = 0; n < passes; n++) {
    assert.equal(await page.locator("#log-1 .due").count(), 1, "one pass is due");
    await boxes.nth(n).locator("xpath=following-sibling::label").click();
  }
  assert.equal(await page.locator("#log-1 .due").count(), 0);
  if (logs > 1) {
    await go("log-2");
    await page.locator("#log-2 .mark").first().focus();
    await page.keyboard.press("Space");
  }
  await go("pack");
  await page.locator("#pack .tick + label").first().click();
  const marked = () => page.locator(".mark:checked, .tick:checked").count();
  const before = await marked();
  assert.equal(before, passes + (logs > 1 ? 2 : 1));
  await page.reload({ waitUntil: "load" });
  assert.equal(await marked(), before, "marks after a reload");
  await go("job");
  if (logs > 1) assert.equal(await page.locator(".go-on").getAttribute("href"), "#log-2", "what is next");
  await shot("marked");
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator(".save").click()]);
  const saved = readFileSync(await download.path(), "utf8");
  const lines = saved.trim().split("\n");
  assert.equal(lines[0], "pithward tally 1");
  assert.equal(lines.length, logs > 1 ? 4 : 3, saved);
  console.log(`${name}: marked ${before}, ${lines.length - 1} lines saved`);
  return saved;
};

const words = (page, view) => page.locator(`#${view}`).innerText();

try {
  // The demo: forty logs, ranges that were promised, a bill.
  const farm = await opened("farmyard");
  const bill = [...PAPERS, "bill"];
  for (const paper of bill) assert.ok(farm.views.includes(paper), `no ${paper}`);
  await fits(farm, ["job", "log-2", ...bill]);
  await holds_a_glove(farm, ["job", "log-2", ...bill]);
  await walks(farm);
  writeFileSync(marksFile, await marks(farm));
  await reads_well(farm, ["job", "log-2", "log-2/step", ...bill]);
  await prints(farm, ["job", "log-2", ...bill]);
  const logs = await farm.page.locator(".log").count();
  const of_logs = await farm.page.locator(".log").evaluateAll((all) => all.map((log) => Number(log.dataset.sheets)));
  assert.ok(of_logs.every((sheets) => sheets <= 2), `a log on more than two sheets: ${of_logs}`);
  console.log(`farmyard: ${of_logs.filter((sheets) => sheets === 1).length} of ${logs} logs on one sheet, the others on two`);
  const wants = await farm.page.locator("#job table").first().locator("tbody tr").count();
  for (const paper of ["quote", "customer"]) {
    const drawn = await farm.page.locator(`#${paper} .drawn svg`).count();
    assert.ok(drawn >= wants, `${paper}: ${drawn} ranges for ${wants} wants`);
  }
  assert.equal(await farm.page.locator("#quote .ranged").nth(1).locator(".drawn svg").count(), 5, "hours, two prices, board feet, blades");
  await farm.page.close();

  // Nobody quoted it, and there is no tally: no range, no bill, and no figure that nobody reckoned.
  const plain = await opened("plain");
  assert.ok(!plain.views.includes("bill"));
  assert.equal(await plain.page.locator(".drawn").count(), 0);
  for (const paper of ["quote", "customer"]) {
    await plain.go(paper);
    assert.doesNotMatch(await words(plain.page, paper), /four days out of five|nine chances/);
  }
  await prints(plain, ["customer", "quote"]);
  await plain.page.close();

  // Names and notes of all kinds stay text.
  const awkward = await opened("awkward");
  assert.equal(await awkward.page.evaluate(() => document.querySelectorAll("script").length), 1, "one script, the page's own");
  assert.equal(await awkward.page.evaluate(() => document.querySelectorAll("img, i, b, gate, two").length), 0);
  assert.match(await awkward.page.title(), /^<script>alert\(1\)<\/script> & "O'Hara's"/);
  assert.equal(await awkward.page.locator("#log-1").count(), 1);
  const ids = await awkward.page.locator(".log").evaluateAll((all) => all.map((log) => log.dataset.log));
  for (const id of ["<script>", "אלון 7 (ב)", "🪵🪵\"a\"&'b'\\c", "WWWWWWWWWWWW"]) {
    assert.ok(ids.includes(id), `no log ${id}`);
    const own = `log-${ids.indexOf(id) + 1}`;
    await awkward.go(own);
    assert.ok((await words(awkward.page, own)).includes(id), id);
  }
  await awkward.go(`log-${ids.indexOf("<script>") + 1}`);
  assert.match(await words(awkward.page, `log-${ids.indexOf("<script>") + 1}`), /<\/style><\/script><script>document\.title='broken'<\/script>/);
  await awkward.go("work-order");
  assert.match(await words(awkward.page, "work-order"), /<script>/);
  await awkward.go("bill");
  assert.match(await words(awkward.page, "bill"), /<\/style> nail/);
  await fits(awkward, awkward.views);
  await holds_a_glove(awkward, awkward.views);
  await walks(awkward);
  const lines = await marks(awkward);
  writeFileSync(marksFile.replace(/\.txt$/, "-awkward.txt"), lines);
  await reads_well(awkward, ["job", "log-1", "log-1/step", "customer", "bill"]);
  await prints(awkward, awkward.views);
  await awkward.page.close();

  // Millimetres, kilograms, litres throughout.
  const metric = await opened("metric");
  for (const view of metric.views) {
    await metric.go(view);
    const said = (await words(metric.page, view)).replaceAll("millimetres", "");
    const other = said.match(/[^\n]*\b(\d (in|ft|lb|gal)|\d+\/\d+|inch|inches|pounds?|gallons?|cubic yards?)\b[^\n]*/g) ?? [];
    const ours = other.filter((line) => !/^\s*Board foot: a board of one foot/i.test(line) && !/144 cubic inches/.test(line));
    assert.deepEqual(ours, [], `metric#${view}`);
  }
  await fits(metric, ["job", "log-1", "quote", "customer"]);
  await prints(metric, metric.views);
  await metric.page.close();

  // One log by itself.
  const one = await opened("one");
  await fits(one, ["job", "log-1"]);
  await walks(one);
  await prints(one, ["job", "log-1"]);
  await one.page.close();

  assert.deepEqual(wrong, [], "errors in the page");
  assert.deepEqual(requests, [], "requests that left the page");
  console.log("all good");
} finally {
  await context.close();
  rmSync(profile, { recursive: true, force: true });
}
