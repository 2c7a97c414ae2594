import { existsSync, mkdirSync, readdirSync, statSync } from "node:fs";
import path from "node:path";
import { chromium } from "playwright-core";
import { findChromium, root } from "../../../scripts/ensure.js";
import { loadSource } from "../../../scripts/loadSource.js";
import { serve } from "../../../scripts/serve.js";
import { time } from "../measure.js";
import { trial } from "../trial.js";

const { packTrace } = await loadSource("src/trace/packTrace.ts");

const TRIALS = 5000;
/** Traces made in full; the others are these at another scale. */
const MODELS = 40;
/** Traces handed to the page at once. */
const HANDED = 250;

/** A season in the embedded sheet of the built page: written, saved, changed, opened again in a new browser. */
export default async function season({ folder }) {
  const dist = process.env.LEAPSHEET_DIST ?? path.join(root, "dist");
  const executablePath = findChromium();
  if (!existsSync(path.join(dist, "embedded.html")) || executablePath === undefined) {
    console.error("the built page (npm run build) or a Chromium is missing: the rows of the season are left out");
    return [];
  }
  const server = await serve({ folder: dist });
  const profile = path.join(folder, "profile");
  mkdirSync(profile, { recursive: true });
  let open;
  try {
    open = await opened(profile, executablePath, server.url);
    const traces = seasonOfTraces();
    const characters = traces.reduce((sum, cells) => sum + cells.join("").length, 0) / TRIALS;
    await open.page.evaluate(() => void (window.season = []));
    for (let from = 0; from < TRIALS; from += HANDED) await open.page.evaluate((some) => void window.season.push(...some), traces.slice(from, from + HANDED));
    const written = await open.measured(() => open.page.evaluate(writeSeason));
    const saved = await open.measured(() => open.page.evaluate(saveNow));
    const changed = await open.measured(() => open.page.evaluate(changeOne));
    const savedAgain = await open.measured(() => open.page.evaluate(saveNow));
    const xlsx = await open.page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 1000))).then(() => downloaded(open.page));
    await open.close();
    const stored = bytesIn(path.join(profile, "Default", "IndexedDB"));
    const began = performance.now();
    open = await opened(profile, executablePath, server.url);
    const opening = (performance.now() - began) / 1000;
    const state = await open.page.evaluate(stateNow);
    if (state.trials < TRIALS || state.verdicts < TRIALS) throw new Error(`${state.trials} trials and ${state.verdicts} verdicts of ${TRIALS} were there after opening`);
    const changedAfter = await open.measured(() => open.page.evaluate(changeOne));
    const setting = await open.measured(() => open.page.evaluate(changeSetting));
    if (setting.result < TRIALS) throw new Error(`${setting.result} traces of ${TRIALS} were analysed again after a setting changed`);
    const said = ({ clock, thread }) => `${time(clock)}; the page's thread worked ${time(thread)}`;
    const row = (id, work, value, more = {}) => ({ id: `season-${id}`, work: `a season of ${TRIALS} trials: ${work}`, value, ...more });
    return [
      row("write", "brought in at once, tables filled", said(written), { note: `packed texts of ${Math.round(characters)} characters on average` }),
      row("save", "saved for the first time", said(saved)),
      row("storage", "in the browser's storage, compressed by it; as .xlsx", `${megabytes(stored)}; ${xlsx === undefined ? "not measured" : megabytes(xlsx)}`),
      row("open", "opened in a new browser", time(opening), { note: `no formula is computed again; ${state.analyses} traces were analysed meanwhile for the pane's list, which grows as it is drawn; ${state.megabytes} MB of memory for scripts` }),
      row("change", "one trial left out, and what depends on it", said(changed), { note: `after opening ${said(changedAfter)}` }),
      row("resave", "saved after that change", said(savedAgain)),
      row("setting", "all analysed again after a setting changed", said(setting)),
    ];
  } finally {
    await open?.close();
    await server.close();
  }
}

function seasonOfTraces() {
  const models = Array.from({ length: MODELS }, (_, index) => trial(index + 1));
  return Array.from({ length: TRIALS }, (_, index) => {
    const model = models[index % MODELS];
    const scale = 0.9 + (0.2 * index) / TRIALS;
    const cells = packTrace({ ...model, plates: model.plates.map((plate) => ({ ...plate, force: plate.force.map((force) => Math.round(force * scale * 10) / 10) })) });
    return Array.from({ length: 4 }, (_, place) => cells[place] ?? "");
  });
}

async function opened(profile, executablePath, url) {
  const context = await chromium.launchPersistentContext(profile, { executablePath, args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--enable-precise-memory-info"] });
  const page = context.pages()[0] ?? (await context.newPage());
  page.setDefaultTimeout(600_000);
  await page.goto(url);
  await page.waitForSelector("body[data-ready=yes]");
  const session = await context.newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  const thread = async () => (await session.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration").value;
  return {
    page,
    close: () => context.close(),
    /** Seconds by the clock and of the page's own thread. */
    async measured(work) {
      const [worked, began] = [await thread(), performance.now()];
      const result = await work();
      return { result, clock: (performance.now() - began) / 1000, thread: (await thread()) - worked };
    },
  };
}

/** These run in the page. */
async function writeSeason() {
  const { host, workbook } = window.leapsheet;
  const trace = { rate: 1000, plates: [{ role: "total", force: new Float64Array(1) }], start: 0, step: 0, rounding: 0 };
  const drafts = window.season.map((packed, index) => ({ athlete: `Invented ${index % 40}`, date: `2026-0${1 + (index % 9)}-1${index % 10}`, protocol: { test: "CMJ", arms: "hips" }, file: `${index}.csv`, startInFile: 0, hash: `season-${index}`, trace, packed }));
  delete window.season;
  await workbook.addTrials(drafts, { label: "Season" });
  await host.settled();
}

async function saveNow() {
  await window.leapsheet.save();
  await new Promise((resolve) => setTimeout(resolve, 50));
  await window.leapsheet.save();
}

async function changeOne() {
  const { host, workbook } = window.leapsheet;
  const trials = await workbook.trials();
  const { key, keep } = trials[Math.floor(trials.length / 2)];
  await workbook.setKeep(key, keep === "" ? "leave out" : "", "");
  await host.settled();
}

async function changeSetting() {
  const { analysesMade, host, workbook } = window.leapsheet;
  const before = analysesMade();
  await workbook.setSetting("take-off-threshold", 22);
  await host.settled();
  return analysesMade() - before;
}

async function stateNow() {
  const { analysesMade, workbook } = window.leapsheet;
  await new Promise((resolve) => setTimeout(resolve, 3000));
  return { trials: (await workbook.trials()).length, verdicts: (await workbook.verdicts()).size, analyses: analysesMade(), megabytes: Math.round(performance.memory.usedJSHeapSize / 2 ** 20) };
}

async function downloaded(page) {
  await page.locator("#tab-about").click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save with formulas (.xlsx)", exact: true }).click()]);
  return statSync(await download.path()).size;
}

function bytesIn(place) {
  return readdirSync(place, { recursive: true, withFileTypes: true }).reduce((sum, entry) => sum + (entry.isFile() ? statSync(path.join(entry.parentPath ?? entry.path, entry.name)).size : 0), 0);
}

function megabytes(bytes) {
  return `${(bytes / 1e6).toFixed(1)} MB`;
}
