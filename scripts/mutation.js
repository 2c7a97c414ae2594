// Mutation testing, a room at a time: each small change of a formula must be noticed by a test.
//   npm run mutation -- metrics statistics          without names: every room of ROOMS
//   npm run mutation -- statistics/typicalError     one file
// MUTATION_TESTS names the test files to run, with commas between them, in place of all of the room: quicker, and a lower score.
// A second run tries again only what changed (`.cache/mutation`). LEAPSHEET_DATA adds the tests on real data.
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { root } from "./ensure.js";

/** Rooms whose numbers people act on, and the score below which a run fails, per cent. */
const ROOMS = ["metrics", "statistics", "motion", "events", "protocols", "protocolTexts"];
const LEAST = 85;

const asked = process.argv.slice(2).filter((argument) => !argument.startsWith("-"));
const unknown = asked.filter((name) => !ROOMS.includes(name.split("/")[0]));
if (unknown.length > 0) {
  console.error(`mutation testing knows the rooms ${ROOMS.join(", ")}; not ${unknown.join(", ")}`);
  process.exit(2);
}

mkdirSync(path.join(root, ".cache", "mutation"), { recursive: true });
const stryker = path.join(root, "node_modules", "@stryker-mutator", "core", "bin", "stryker.js");
let failed = false;
const rooms = new Map((asked.length > 0 ? asked : ROOMS).map((name) => [name.split("/")[0], []]));
for (const name of asked) if (name.includes("/")) rooms.get(name.split("/")[0]).push(name);
for (const [room, names] of rooms) {
  const { status } = spawnSync(process.execPath, [stryker, "run", "tests/mutation/stryker.config.js"], { cwd: root, stdio: "inherit", env: { ...process.env, MUTATION_ROOM: room, MUTATION_FILES: names.join() } });
  failed ||= status !== 0 || !report(room);
}
process.exit(failed ? 1 : 0);

/** Prints the score of a room, and what survived; says whether it is high enough. */
function report(room) {
  const { files } = JSON.parse(readFileSync(path.join(root, ".cache", "mutation", `${room}.report.json`), "utf8"));
  const mutants = Object.entries(files).flatMap(([file, { mutants: found }]) => found.map((mutant) => ({ file, ...mutant })));
  const count = (...states) => mutants.filter(({ status }) => states.includes(status)).length;
  const noticed = count("Killed", "Timeout");
  const missed = count("Survived", "NoCoverage");
  const score = (100 * noticed) / (noticed + missed);
  for (const { file, location, mutatorName, replacement, status } of mutants) {
    if (status === "Survived" || status === "NoCoverage") console.log(`${file}:${location.start.line}:${location.start.column} ${mutatorName} -> ${String(replacement).replace(/\s+/g, " ").slice(0, 90)}${status === "NoCoverage" ? " (no test runs it)" : ""}`);
  }
  console.log(`${room}: ${score.toFixed(1)} % of ${noticed + missed} changes were noticed`);
  return score >= LEAST;
}
