import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { chromium } from "playwright-core";
import { findChromium, root } from "../../../scripts/ensure.js";
import { serve } from "../../../scripts/serve.js";
import { median, time } from "../measure.js";
import { jump } from "../trial.js";

/** A day's recordings: forty athletes, three tests, three trials each; 6 s of two plates at 1000 Hz. */
const TRIALS = 360;
const SAMPLES = 6000;
const SELECTIONS = 30;
const FIRST_VISITS = 4;

/** A testing day in the embedded host of the built page: opened, recordings brought in, looked over, numbers explained. */
export default async function testingDay({ folder }) {
  const dist = process.env.LEAPSHEET_DIST ?? path.join(root, "dist");
  const executablePath = findChromium();
  if (!existsSync(path.join(dist, "embedded.html")) || executablePath === undefined) {
    console.error("the built page (npm run build) or a Chromium is missing: the rows of the testing day are left out");
    return [];
  }
  const places = recordings(path.join(folder, "day"));
  const server = await serve({ folder: dist });
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
  try {
    const visits = [];
    for (let visit = 0; visit < FIRST_VISITS; visit++) visits.push(await firstVisit(browser, server.url));
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(120_000);
    await page.goto(server.url);
    await page.waitForSelector("body[data-ready=yes]");
    await page.evaluate(() => window.leapsheet.host.settled());
    await page.evaluate(watchFrames);

    // Found and clicked by scripts of the page: the search of the driver would lay out the whole page, in one task.
    await page.locator("#tab-bringIn").click();
    await page.locator("[data-test=files]").waitFor({ state: "attached" });
    await page.evaluate(() => window.frames.begin());
    const dropped = performance.now();
    await page.locator("[data-test=files]").setInputFiles(places);
    await page.evaluate(appeared, ["button", `Write ${TRIALS} trials`]);
    const read = (performance.now() - dropped) / 1000;
    const reading = await page.evaluate(() => window.frames.end());
    const athlete = page.locator("#leapsheet-view").getByLabel(/^Athlete/).last();
    if ((await athlete.inputValue()) === "") await athlete.fill("Squad");
    await page.waitForTimeout(500);

    await page.evaluate(() => window.frames.begin());
    const asked = performance.now();
    await page.evaluate(clickButton, `Write ${TRIALS} trials`);
    await page.evaluate(appeared, ["#pane *", `${TRIALS} trials written`]);
    const heights = await page.evaluate(resultsFilled);
    const written = (performance.now() - asked) / 1000;
    const writing = await page.evaluate(() => window.frames.end());
    if (heights < TRIALS) throw new Error(`${heights} of ${TRIALS} trials have a height in Results`);

    await page.locator("#tab-settings").click();
    await page.waitForTimeout(1000);
    await page.evaluate(() => window.frames.begin());
    await page.evaluate(() => document.getElementById("tab-trials").click());
    await page.waitForTimeout(2000);
    const opening = await page.evaluate(() => window.frames.end());
    await page.locator("#pane [data-line]").first().focus();
    await page.evaluate(() => window.frames.begin());
    for (let line = 1; line < TRIALS; line++) await page.keyboard.press("ArrowDown");
    const looking = await page.evaluate(() => window.frames.end());
    const reached = await page.evaluate(() => [...document.querySelectorAll("#pane [data-line]")].indexOf(document.activeElement));
    if (reached < TRIALS / 2) throw new Error(`the arrow key came to line ${reached} only`);

    await page.locator("#tab-explain").click();
    const explained = await page.evaluate(explainMany, SELECTIONS);
    const row = (id, work, value, number, most) => ({ id: `day-${id}`, work, value, ratio: number, absolute: true, less: true, ...(most === undefined ? {} : { target: { most } }) });
    const visit = (id, work, most) => {
      const seconds = visits.map((each) => each[id]);
      return row(id, work, `${time(Math.min(...seconds))} (most of ${FIRST_VISITS}: ${time(Math.max(...seconds))})`, 1000 * Math.max(...seconds), most);
    };
    const frames = (id, work, { frame, task }) => row(id, work, `longest wait for a frame ${frame.toFixed(0)} ms, longest task ${task.toFixed(0)} ms`, frame, 100);
    return [
      visit("usable", "first visit: sheet and pane can be used; ms", 2500),
      visit("computed", "first visit: the demo is computed too; ms"),
      row("import", `${TRIALS} recordings of 6 s on two plates, from drop to filled tables; ms`, `${time(read + written)}: ${time(read)} reading, ${time(written)} writing and computing`, 1000 * (read + written), 6000),
      frames("reading", "the page while it reads them; ms", reading),
      frames("writing", "the page while it writes and computes them; ms", writing),
      frames("opening", "opening the list of these trials; ms", opening),
      frames("looking", "looking them over with the arrow key; ms", looking),
      row("explain", "from a selected cell to its explanation; ms", `median ${time(median(explained) / 1000)}, most of ${SELECTIONS}: ${time(Math.max(...explained) / 1000)}`, median(explained), 100),
    ];
  } finally {
    await browser.close();
    await server.close();
  }
}

function recordings(place) {
  mkdirSync(place);
  return Array.from({ length: TRIALS }, (_, index) => {
    const { rate, plates } = jump(index + 1, { quietBefore: 2.2, quietAfter: 2.6 });
    const [left, right] = plates.map(({ force }) => force);
    if (left.length < SAMPLES) throw new Error(`the recording of seed ${index + 1} has ${left.length} samples only`);
    const lines = ["time,left,right"];
    for (let i = 0; i < SAMPLES; i++) lines.push(`${(i / rate).toFixed(3)},${left[i].toFixed(2)},${right[i].toFixed(2)}`);
    const file = path.join(place, `Invented ${String(Math.floor(index / 9)).padStart(2, "0")} trial ${index}.csv`);
    writeFileSync(file, `${lines.join("\n")}\n`);
    return file;
  });
}

/** Seconds from the address to sheet and pane that can be used, and to a demo that is computed too, in a browser that was never there. */
async function firstVisit(browser, url) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  const began = performance.now();
  await page.goto(url);
  await page.waitForSelector("#tab-trials");
  // An answer of the page's thread: what stands there takes keys and clicks.
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
  const usable = (performance.now() - began) / 1000;
  await page.waitForSelector("body[data-ready=yes]");
  await page.evaluate(() => window.leapsheet.host.settled());
  const computed = (performance.now() - began) / 1000;
  await context.close();
  return { usable, computed };
}

/** These run in the page. */
function watchFrames() {
  let watching = false;
  let longest = { frame: 0, task: 0 };
  let last = 0;
  const frame = (now) => {
    if (!watching) return;
    longest.frame = Math.max(longest.frame, now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  const observer = new PerformanceObserver((entries) => {
    for (const { duration } of entries.getEntries()) longest.task = Math.max(longest.task, duration);
  });
  window.frames = {
    begin() {
      watching = true;
      longest = { frame: 0, task: 0 };
      last = performance.now();
      observer.observe({ entryTypes: ["longtask"] });
      requestAnimationFrame(frame);
    },
    async end() {
      await new Promise((resolve) => requestAnimationFrame(resolve));
      watching = false;
      for (const { duration } of observer.takeRecords()) longest.task = Math.max(longest.task, duration);
      observer.disconnect();
      return longest;
    },
  };
}

/** Resolves when an element says this; asked at each frame. */
async function appeared([selector, text]) {
  const there = () => [...document.querySelectorAll(selector)].some((element) => element.childElementCount < 3 && element.textContent.trim().startsWith(text));
  while (!there()) await new Promise((resolve) => requestAnimationFrame(resolve));
}

function clickButton(text) {
  [...document.querySelectorAll("button")].find((button) => button.textContent.trim() === text).click();
}

async function resultsFilled() {
  const { host } = window.leapsheet;
  await host.settled();
  const [{ values }] = await host.read([await host.usedRange("Results")]);
  const at = values[0].findIndex((head) => String(head).startsWith("jumpHeight"));
  return values.filter((row) => /^Invented \d\d|^Squad/.test(String(row[0])) && typeof row[at] === "number").length;
}

async function explainMany(count) {
  const { host } = window.leapsheet;
  const view = document.getElementById("leapsheet-view");
  const times = [];
  for (let index = 0; index < count; index++) {
    const before = view.innerText;
    const began = performance.now();
    await host.select({ sheet: "Results", row: 2 + ((index * 37) % 300), column: 5 + (index % 8) });
    while (view.innerText === before && performance.now() - began < 5000) await new Promise((resolve) => requestAnimationFrame(resolve));
    times.push(performance.now() - began);
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  return times;
}
