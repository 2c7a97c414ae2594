import { closeSync, existsSync, mkdirSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { copyOffice, officeScript } from "./officeScript.js";
import { hashOfSources, ROOT, sourcesDigest } from "./sources.js";

const DIST = join(ROOT, "dist");
const RECEIPT = join(DIST, "build.json");
const LOCK = join(ROOT, ".cache", "build.lock");

/**
 * Builds everything into `dist`, unless what is there was built from the same sources.
 *
 * @param {{ url?: string, officeJs?: string, mode?: string, force?: boolean, log?: (line: string) => void }} [options] `url`: the
 *   address the folder will be hosted at, written into the manifest; `officeJs`: where Office.js comes from, see `officeScript`.
 * @returns {Promise<boolean>} Whether anything was built.
 */
export async function build({ url = "https://localhost:3000", officeJs, mode = "production", force = false, log = console.log } = {}) {
  const office = officeScript(officeJs);
  const release = await lock(log);
  try {
    const digest = sourcesDigest(`${url}\n${mode}\n${office.src}\n${office.folder ?? ""}`);
    if (!force && builtFrom() === digest) return false;
    const started = Date.now();
    mkdirSync(DIST, { recursive: true });
    rmSync(RECEIPT, { force: true });
    await step("function metadata", log, async () => (await optional("./metadata.js"))?.writeMetadata?.({ outDir: DIST, url }));
    const sheetFolder = await step("spreadsheet", log, packSheet);
    await step("pages", log, () => packPages({ mode, officeJs }, sheetFolder));
    if (copyOffice({ outDir: DIST, folder: office.folder }) > 0) log(`  Office.js: copied from ${office.folder}`);
    await step("manifest", log, async () => (await optional("./manifest.js"))?.writeManifest?.({ outDir: DIST, url }));
    await step("documentation pages", log, async () => (await optional("./docs.js"))?.writePages?.({ outDir: join(DIST, "docs") }));
    await step("list of packages and licences", log, async () => (await import("./licences.js")).writeLicences({ outDir: DIST }));
    writeFileSync(RECEIPT, `${JSON.stringify({ digest, url, mode }, null, 2)}\n`);
    log(`built in ${seconds(started)}`);
    return true;
  } finally {
    release();
  }
}

function builtFrom() {
  try {
    return existsSync(join(DIST, "embedded.html")) ? JSON.parse(readFileSync(RECEIPT, "utf8")).digest : undefined;
  } catch {
    return undefined;
  }
}

/** Packs the spreadsheet's packages, unless these very packages were packed before. */
async function packSheet() {
  const folder = join(ROOT, ".cache", "sheet", hashOfSources(["scripts/webpackSheet.js"], runtimePackages()).slice(0, 16));
  if (!existsSync(join(folder, "done"))) {
    rmSync(join(ROOT, ".cache", "sheet"), { recursive: true, force: true });
    const { sheetBundle } = await import("./webpackSheet.js");
    await pack(sheetBundle(folder));
    writeFileSync(join(folder, "done"), "");
  }
  return folder;
}

/** Names and versions of the packages that end up in pages, as the lock file has them. */
function runtimePackages() {
  const { packages } = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8"));
  return Object.entries(packages).map(([name, { version, dev }]) => (name === "" || dev ? "" : `${name}@${version}`)).join("\n");
}

async function packPages({ mode, officeJs }, sheetFolder) {
  const { embeddedPage, excelPage } = await configuration();
  const sheetFile = readdirSync(sheetFolder).find((name) => /^sheet\.[0-9a-f]+\.js$/.test(name));
  const { stats } = await pack([embeddedPage({ mode, sheetFolder, sheetFile }), excelPage({ mode, officeJs })]);
  // Parts of an earlier build go last: a page that is being opened meanwhile still finds its own.
  const present = new Set(stats.flatMap(({ compilation }) => Object.keys(compilation.assets)));
  for (const name of readdirSync(DIST)) if (/\.[0-9a-f]{8}\.(js|css)$/.test(name) && !present.has(name)) rmSync(join(DIST, name));
}

const configuration = () => import(pathToFileURL(join(ROOT, "webpack.config.js")).href);

async function pack(config) {
  const { default: webpack } = await import("webpack");
  const compiler = webpack(config);
  const stats = await new Promise((resolve, reject) => compiler.run((error, result) => (error ? reject(error) : resolve(result))));
  await new Promise((resolve, reject) => compiler.close((error) => (error ? reject(error) : resolve())));
  if (stats.hasErrors()) throw new Error(stats.toString({ preset: "errors-only", colors: false }));
  return stats;
}

/** A script of the build that may not exist in a partial checkout. */
async function optional(path) {
  const url = new URL(path, import.meta.url);
  return existsSync(url) ? import(url.href) : undefined;
}

async function step(name, log, work) {
  const started = Date.now();
  log(`building ${name} …`);
  const result = await work();
  log(`  ${name}: ${seconds(started)}`);
  return result;
}

const seconds = (since) => `${((Date.now() - since) / 1000).toFixed(1)} s`;

/** One build at a time: two would write the same files. */
async function lock(log) {
  mkdirSync(join(ROOT, ".cache"), { recursive: true });
  for (let said = false; ; ) {
    try {
      const handle = openSync(LOCK, "wx");
      writeSync(handle, String(process.pid));
      closeSync(handle);
      return () => rmSync(LOCK, { force: true });
    } catch (error) {
      if (error.code !== "EEXIST") throw error;
    }
    if (!holderLives()) {
      rmSync(LOCK, { force: true });
      continue;
    }
    if (!said) log("another build is running; waiting for it …");
    said = true;
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}

function holderLives() {
  try {
    const holder = Number(readFileSync(LOCK, "utf8"));
    if (!holder) return true; // being written this very moment
    process.kill(holder, 0);
    return true;
  } catch (error) {
    return error.code === "EPERM";
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { parseArgs } = await import("node:util");
  const { checkNode, ensurePackages } = await import("./ensure.js");
  try {
    checkNode();
    const { values } = parseArgs({ options: { url: { type: "string" }, "office-js": { type: "string" }, mode: { type: "string" }, force: { type: "boolean" } } });
    ensurePackages();
    if (!(await build({ ...values, officeJs: values["office-js"] }))) console.log("nothing changed since the last build");
  } catch (error) {
    console.error(error.message);
    process.exitCode = 1;
  }
}
