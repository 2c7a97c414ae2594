// `npm test`: everything, on a fresh machine too. Installs what is missing, then types, lint, unit and browser tests.
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import path from "node:path";
import { checkNode, ensureChromium, ensurePackages, root, run } from "./ensure.js";

checkNode();
ensurePackages();
const chromium = ensureChromium();
const began = Date.now();
let failedSteps = 0;

function step(name, args) {
  const from = Date.now();
  console.log(`\n== ${name}`);
  const code = run(process.execPath, args);
  console.log(`== ${name}: ${code === 0 ? "passed" : "FAILED"} in ${((Date.now() - from) / 1000).toFixed(0)} s`);
  if (code !== 0) {
    failedSteps += 1;
  }
  return code === 0;
}

const bin = (name, file) => path.join(root, "node_modules", name, file);
const reports = path.join(root, "tests", "output");
mkdirSync(reports, { recursive: true });
const counts = { passed: 0, failed: 0, skipped: 0 };

function vitest(project) {
  const report = path.join(reports, `${project}.json`);
  rmSync(report, { force: true });
  step(`${project} tests`, [bin("vitest", "vitest.mjs"), "run", "--project", project, "--reporter=default", "--reporter=json", `--outputFile.json=${report}`]);
  try {
    const result = JSON.parse(readFileSync(report, "utf8"));
    counts.passed += result.numPassedTests;
    counts.failed += result.numFailedTests;
    counts.skipped += result.numPendingTests + result.numTodoTests;
  } catch {
    console.error(`${project} tests left no report`);
    failedSteps += 1;
  }
}

step("metadata of the cell functions", ["scripts/metadata.js"]);
step("types", ["scripts/types.js"]);
step("lint", [bin("eslint", "bin/eslint.js"), "."]);
vitest("unit");
if (!chromium) {
  console.error("\nNo Chromium was found: install one, or name it in the CHROMIUM variable. The browser tests did not run.");
  failedSteps += 1;
} else if (step("build", ["scripts/build.js"])) {
  vitest("browser");
}

console.log(`\nAll steps took ${((Date.now() - began) / 1000).toFixed(0)} s.`);
if (failedSteps > 0) {
  console.error(`${failedSteps} ${failedSteps === 1 ? "step" : "steps"} failed.`);
}
console.log(`tests: ${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`);
process.exit(failedSteps > 0 ? 1 : 0);
