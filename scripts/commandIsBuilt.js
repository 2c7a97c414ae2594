// Uses Node's own modules only, so that the launcher of the command asks it quickly.
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { hashOfSources, ROOT } from "./sources.js";

/** What the build of the command reads. */
export const COMMAND_SOURCES = ["src", "command", "scripts/buildCommand.js", "package.json"];
/** The built command. */
export const COMMAND = path.join(ROOT, "dist", "command", "main.js");

/** Whether the built command is that of the sources as they are. */
export function commandIsBuilt() {
  const mark = path.join(path.dirname(COMMAND), ".sources");
  return existsSync(COMMAND) && existsSync(mark) && readFileSync(mark, "utf8") === hashOfSources(COMMAND_SOURCES);
}
