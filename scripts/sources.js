import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";

/** The folder of the project. */
export const ROOT = fileURLToPath(new URL("..", import.meta.url)).replace(/[\\/]$/, "");

const SOURCES = ["src", "functions", "taskpane", "scripts", "manifest.xml", "webpack.config.js", "package.json", "package-lock.json", "tsconfig.base.json"];

/**
 * A digest of everything a build reads: it changes when a name or a byte of a source changes.
 *
 * @param {string} [salt] What else the result depends on, such as the address it is built for.
 * @returns {string} 64 hexadecimal digits.
 */
export function sourcesDigest(salt = "") {
  return hashOfSources(SOURCES, salt);
}

/**
 * A digest of some files and folders of the project.
 *
 * @param {readonly string[]} names Paths from the project folder; what does not exist counts as empty.
 * @param {string} [salt] What else the digest stands for.
 */
export function hashOfSources(names, salt = "") {
  const digest = createHash("sha256").update(salt);
  for (const file of names.flatMap((name) => filesUnder(join(ROOT, name)))) {
    digest.update(`\n${relative(ROOT, file)}\n`).update(readFileSync(file));
  }
  return digest.digest("hex");
}

function filesUnder(path) {
  let entries;
  try {
    entries = readdirSync(path, { withFileTypes: true });
  } catch (error) {
    if (error.code === "ENOTDIR") return [path];
    if (error.code === "ENOENT") return [];
    throw error;
  }
  return entries
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => (entry.isDirectory() ? filesUnder(join(path, entry.name)) : [join(path, entry.name)]));
}
