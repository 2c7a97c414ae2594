import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { ROOT } from "./sources.js";

const DEFAULT_URL = "https://localhost:3000";

/**
 * Reads the docblocks of the cell functions into the metadata that Excel, the embedded sheet, the
 * documentation and the tests all use.
 *
 * Three things are set here, once, rather than in every docblock: error cells reach the functions
 * (and never the second flag of that kind, since the pair stops Excel 2021), every call knows its
 * cell, and every function has a help page.
 *
 * @param {{ url?: string }} [options] `url`: the address the pages are hosted at.
 * @returns {Promise<object>} The content of `functions.json`.
 */
export async function functionsMetadata({ url = DEFAULT_URL } = {}) {
  const { generateCustomFunctionsMetadata } = createRequire(import.meta.url)("custom-functions-metadata");
  const { metadataJson, errors } = await generateCustomFunctionsMetadata(functionFiles());
  if (errors.length > 0) throw new Error(`cell functions: ${errors.join("\n")}`);
  const metadata = JSON.parse(metadataJson);
  delete metadata.allowCustomDataForDataTypeAny;
  metadata.allowErrorForDataTypeAny = true;
  metadata.functions.sort((a, b) => (a.id < b.id ? -1 : 1));
  for (const definition of metadata.functions) {
    definition.helpUrl = `${url.replace(/\/+$/, "")}/docs/reference/functions.html#${definition.id.toLowerCase()}`;
    definition.options = { ...definition.options, requiresAddress: true };
  }
  return metadata;
}

/** Files that declare cell functions. */
export function functionFiles() {
  const folder = join(ROOT, "functions");
  return readdirSync(folder)
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(folder, name))
    .filter((file) => readFileSync(file, "utf8").includes("@customfunction"))
    .sort();
}

/** Writes `functions.json` into a folder. */
export async function writeMetadata({ outDir = join(ROOT, "dist"), url = DEFAULT_URL } = {}) {
  const metadata = await functionsMetadata({ url });
  mkdirSync(outDir, { recursive: true });
  writeFileSync(join(outDir, "functions.json"), `${JSON.stringify(metadata, null, 2)}\n`);
  return metadata;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { functions } = await writeMetadata();
  console.log(`dist/functions.json: ${functions.length} functions`);
}
