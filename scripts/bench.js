// `npm run bench`: measures, on this machine, beside what a user would pick instead. By hand, on a quiet machine; never in CI.
//   -- --only analysis,reading   some rows
//   -- --check                   compares the ratios with tests/bench/recorded.json
//   -- --record                  writes them there
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { root } from "./ensure.js";
import { answers, conversation, significant } from "../tests/bench/measure.js";
import { delimited, trial as trialOf } from "../tests/bench/trial.js";

// What times one analysis comes first: records of other kinds make the engine widen its code for them.
const ROWS = ["analysis", "officeFormulas", "reading", "packing", "growth", "folder", "embeddedSheet", "testingDay", "season"];
/** How much worse a ratio may be than the one on record: machines and their load differ. */
const SLACK = 1.5;

const { values } = parseArgs({ options: { only: { type: "string" }, check: { type: "boolean" }, record: { type: "boolean" } } });
const chosen = values.only?.split(",") ?? ROWS;
const unknown = chosen.filter((name) => !ROWS.includes(name));
if (unknown.length > 0) {
  console.error(`--only knows ${ROWS.join(", ")}`);
  process.exit(2);
}

const folder = mkdtempSync(path.join(tmpdir(), "leapsheet-bench-"));
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
const trial = trialOf(3);
const text = delimited(trial);
const file = path.join(folder, "trial.csv");
writeFileSync(file, text);
const peers = path.join(root, "tests", "bench", "peers");
// The first Python that has the packages: the PYTHON variable, the one on the path, Debian's.
const pythons = [process.env.PYTHON, "python3", "/usr/bin/python3"].filter((program) => program !== undefined);
const pythonProgram = pythons.find((program) => answers(program, "-c", "import numpy, scipy, pandas"));
const python = pythonProgram === undefined ? undefined : conversation(pythonProgram, [path.join(peers, "analyse.py"), "serve", file]);
if (python === undefined) console.error("no Python with numpy, scipy and pandas was found (PYTHON can name one): its rows are left out");

console.log(`Node ${process.versions.node}, ${availableParallelism()} processors, load ${loadavg()[0].toFixed(1)} at the start; the fastest of many, in turns\n`);
const rows = [];
for (const name of ROWS.filter((row) => chosen.includes(row))) {
  const { default: measure } = await import(`../tests/bench/rows/${name}.js`);
  const context = { trial, text, file, folder, peers, python, pythonProgram };
  for (const row of await measure(context)) {
    rows.push(row);
    console.log(lineOf(row));
  }
}
python?.end();
console.log(`\nload ${loadavg()[0].toFixed(1)} at the end`);
const missed = rows.filter((row) => met(row) === false);
if (missed.length > 0) console.log(`not met: ${missed.map(({ id }) => id).join(", ")}`);

const kept = path.join(root, "tests", "bench", "recorded.json");
const recorded = existsSync(kept) ? JSON.parse(readFileSync(kept, "utf8")) : {};
if (values.record) {
  const now = Object.fromEntries(rows.filter(({ ratio }) => ratio !== undefined).filter(({ absolute }) => !absolute).map(({ id, ratio }) => [id, Number(ratio.toPrecision(3))]));
  writeFileSync(kept, `${JSON.stringify({ ...recorded, ...now }, null, 2)}\n`);
}
if (values.check) {
  const worse = rows.filter(({ id, ratio, less }) => id in recorded && (less ? ratio > recorded[id] * SLACK : ratio < recorded[id] / SLACK));
  const compared = rows.filter(({ id }) => id in recorded).length;
  for (const { id, ratio } of worse) console.log(`worse than on record: ${id} ${significant(ratio)}, was ${recorded[id]}`);
  console.log(`${compared} ratios compared with those on record, ${worse.length} worse by more than ${SLACK} times`);
  if (worse.length > 0 || compared === 0) process.exitCode = 1;
}

function met({ ratio, target }) {
  if (target === undefined || ratio === undefined) return undefined;
  return target.least !== undefined ? ratio >= target.least : ratio <= target.most;
}

function lineOf(row) {
  const { work, value, peer, ratio, middle, target, note } = row;
  const limit = target === undefined ? "" : `; target ${target.least !== undefined ? `at least ${target.least}` : `at most ${target.most}`}: ${met(row) ? "met" : "NOT MET"}`;
  const rounds = middle === undefined ? "" : ` (median of rounds ${significant(middle)})`;
  const ratios = ratio === undefined ? "" : `\n    ${row.absolute ? "" : "ratio "}${significant(ratio)}${rounds}${limit}`;
  return `${work}\n    ${value}${peer === undefined ? "" : `  |  ${peer}`}${ratios}${note === undefined ? "" : `\n    ${note}`}`;
}
