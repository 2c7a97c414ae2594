#!/usr/bin/env node
// Launcher of the command: plain JavaScript, so that it runs before anything is built.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");

if (!existsSync(path.join(root, "node_modules"))) {
  console.error("leapsheet: packages are missing; run `npm ci` in the Leapsheet folder first");
  process.exit(2);
}
const { COMMAND, commandIsBuilt } = await import("../scripts/commandIsBuilt.js");
if (!commandIsBuilt()) {
  const done = spawnSync(process.execPath, [path.join(root, "scripts", "buildCommand.js")], { cwd: root, stdio: ["ignore", 2, 2] });
  if (done.status !== 0 || !existsSync(COMMAND)) {
    console.error("leapsheet: the command could not be built; see the lines above");
    process.exit(2);
  }
}
const { main } = await import(pathToFileURL(COMMAND).href);
process.exitCode = await main(process.argv.slice(2));
