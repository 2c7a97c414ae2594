// Builds the command into dist/command where its sources have changed: plain compiled modules, no bundle.
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { root, run } from "./ensure.js";
import { hashOfSources } from "./sources.js";

const mark = path.join(root, "dist", "command", ".sources");
const hash = hashOfSources(["src", "command", "package.json"]);
if (!existsSync(mark) || readFileSync(mark, "utf8") !== hash) {
  console.error("leapsheet: building the command (once after each change) …");
  rmSync(path.join(root, "dist", "command"), { recursive: true, force: true });
  rmSync(path.join(root, ".cache", "types", "command-build.tsbuildinfo"), { force: true });
  const code = run(process.execPath, [path.join(root, "node_modules", "typescript", "bin", "tsc"), "-p", "command/tsconfig.build.json"]);
  if (code !== 0) {
    process.exit(code);
  }
  mkdirSync(path.dirname(mark), { recursive: true });
  writeFileSync(mark, hash);
}
