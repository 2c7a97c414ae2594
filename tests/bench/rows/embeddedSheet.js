import { existsSync } from "node:fs";
import path from "node:path";
import { chromium } from "playwright-core";
import { findChromium, root } from "../../../scripts/ensure.js";
import { loadSource } from "../../../scripts/loadSource.js";
import { serve } from "../../../scripts/serve.js";
import { median, time } from "../measure.js";
import { trial } from "../trial.js";

const { packTrace } = await loadSource("src/trace/packTrace.ts");

const TRIALS = 300;
const METRICS = [
  "bodyMass", "flightTime", "takeoffVelocity", "jumpHeight", "jumpHeightFlightTime", "timeToTakeoff", "rsiModified", "countermovementDepth", "peakForce", "meanForceBraking",
  "meanForcePropulsion", "peakPower", "meanPowerPropulsion", "brakingImpulse", "propulsionImpulse", "brakingTime", "propulsionTime", "peakLandingForce", "meanForceBrakingAsymmetry", "meanForcePropulsionAsymmetry",
];
const SHEET = "Speed";

/** A sheet of packed trials and their metrics, in the built page: every trace analysed anew because a setting changed. */
export default async function embeddedSheet() {
  const dist = process.env.LEAPSHEET_DIST ?? path.join(root, "dist");
  const executablePath = findChromium();
  if (!existsSync(path.join(dist, "embedded.html")) || executablePath === undefined) {
    console.error("the built page (npm run build) or a Chromium is missing: the rows of the embedded sheet are left out");
    return [];
  }
  const server = await serve({ folder: dist });
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
  try {
    const page = await browser.newPage();
    await page.goto(server.url);
    await page.waitForSelector("body[data-ready=yes]", { timeout: 120_000 });
    const traces = Array.from({ length: TRIALS }, (_, i) => {
      const cells = packTrace(trial(i + 1));
      return Array.from({ length: 4 }, (_, k) => cells[k] ?? "");
    });
    // What the page's own thread worked, beside what the clock shows: the second counts waiting for a processor too.
    const session = await page.context().newCDPSession(page);
    await session.send("Performance.enable", { timeDomain: "threadTicks" });
    await page.exposeFunction("threadSeconds", async () => (await session.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration").value);
    const measured = await page.evaluate(measureInPage, { sheet: SHEET, traces, metrics: METRICS, times: 7 });
    const heights = new Set(measured.heights);
    if (measured.numbers !== TRIALS * METRICS.length || heights.size < TRIALS / 2) throw new Error(`${measured.numbers} of ${TRIALS * METRICS.length} cells hold numbers`);
    const row = (id, work, runs, target) => {
      const seconds = runs.map(({ clock }) => clock);
      const thread = Math.min(...runs.map((run) => run.thread));
      return { id, work, value: `${time(Math.min(...seconds))} (median ${time(median(seconds))}); the page's thread worked ${time(thread)}`, ratio: Math.min(...seconds) * 1000, absolute: true, less: true, ...(target === undefined ? {} : { target }) };
    };
    return [
      row("sheet", `${TRIALS} trials × ${METRICS.length} metrics in the embedded sheet after a setting changed, every trace analysed again; ms`, measured.changed, { most: 400 }),
      row("sheet-same", "the same formulas computed afresh with nothing changed: the analyses are kept; ms", measured.same),
    ];
  } finally {
    await browser.close();
    await server.close();
  }
}

/** Runs in the page. */
async function measureInPage({ sheet, traces, metrics, times }) {
  const { host } = window.leapsheet;
  const write = async (edits) => {
    await host.apply(edits, { label: "Speed" });
    await host.settled();
  };
  const cells = (row, column, inputs) => ({ kind: "cells", sheet, row, column, cells: inputs });
  const results = { sheet, row: 1, column: 6, rows: traces.length, columns: metrics.length };
  await write([
    { kind: "addSheet", sheet, rows: traces.length + 10, columns: 40 },
    { kind: "columns", sheet, column: 1, count: 4, hidden: true },
    cells(0, 6, [metrics]),
    cells(0, 30, [["take-off-threshold", 20]]),
    cells(1, 1, traces),
    cells(1, 0, traces.map(() => ["CMJ"])),
  ]);
  await write([cells(1, 6, traces.map((_, i) => [{ formula: `=LEAP.METRIC(B${i + 2}:E${i + 2},A${i + 2},$G$1:$Z$1,$AE$1:$AF$1)` }]))]);
  const seconds = async (work) => {
    const thread = await window.threadSeconds();
    const began = performance.now();
    await work();
    await host.settled();
    const clock = (performance.now() - began) / 1000;
    return { clock, thread: (await window.threadSeconds()) - thread };
  };
  const changed = [];
  const same = [];
  for (let k = 0; k < times; k++) {
    changed.push(await seconds(() => host.apply([cells(0, 31, [[21 + k]])], { label: "Threshold" })));
    same.push(await seconds(() => host.recalculate([{ ...results, columns: 1 }])));
  }
  const [{ values }] = await host.read([results]);
  return { changed, same, numbers: values.flat().filter((value) => typeof value === "number").length, heights: values.map((line) => line[3]) };
}
