import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { dirname, join } from "node:path";

/** Where Microsoft keeps Office.js for every add-in. */
export const OFFICIAL_SCRIPT = "https://appsforoffice.microsoft.com/lib/1/hosted/office.js";

/** The folder of the build that holds an organisation's own copy. */
const OWN_FOLDER = "office-js";

/**
 * What of Office.js a page inside Excel can ask for: the loader, Excel's own parts, its texts in every language and its telemetry. Parts of other
 * programs, declarations and uncompressed copies are left behind.
 */
const WANTED = /^(office\.js|o15apptofilemappingtable\.js|custom-functions-runtime\.js|es6-promise\.js|excel(?!.*\.debug\.)[\w.-]*\.js|(telemetry|ariatelemetry)\/(?!.*\.debug\.)[\w.-]+\.js|[\w-]+\/office_strings\.js)$/;

/**
 * Where the page inside Excel gets Office.js from.
 *
 * @param {string} [where] An https address (of `office.js` or of its folder), a folder on this machine that holds `office.js` and is copied
 *   into the build, or nothing: Microsoft's own address.
 * @returns {{ src: string, scripts: string[], folder?: string }} The address for the page; where its content
 *   security policy allows scripts from besides the page's own origin; the folder to copy, if any.
 */
export function officeScript(where = OFFICIAL_SCRIPT) {
  if (where === OFFICIAL_SCRIPT) {
    // Its parts name two more addresses, of a library and of a frame: only those for Excel before 2019 ask for them.
    return { src: OFFICIAL_SCRIPT, scripts: ["https://appsforoffice.microsoft.com"] };
  }
  if (/^[a-z][a-z0-9+.-]+:/i.test(where) && !/^[a-z]:[\\/]/i.test(where)) return fromAddress(where);
  if (!existsSync(join(where, "office.js"))) throw new Error(`--office-js requires an https address or a folder that holds office.js, and ${where} does not`);
  return { src: `${OWN_FOLDER}/office.js`, scripts: [], folder: where };
}

function fromAddress(where) {
  const address = new URL(where);
  if (address.protocol !== "https:") throw new Error(`Excel loads Office.js over https only, not from ${where}`);
  if (address.search !== "" || address.hash !== "" || /[;,'"]/.test(address.href)) throw new Error(`the address of Office.js must name a file or a folder, without ? # ; , or quotes: ${where}`);
  const src = address.pathname.endsWith(".js") ? address.href : `${address.href.replace(/\/+$/, "")}/office.js`;
  // A path that ends in a slash allows everything below it, and nothing else of that server.
  return { src, scripts: [src.slice(0, src.lastIndexOf("/") + 1)] };
}

/**
 * Puts the copy of Office.js into the build, unchanged and with its licence; takes an earlier copy away where there is none to be.
 *
 * @param {{ outDir: string, folder?: string }} options
 * @returns {number} How many files were copied.
 */
export function copyOffice({ outDir, folder }) {
  const target = join(outDir, OWN_FOLDER);
  rmSync(target, { recursive: true, force: true });
  if (folder === undefined) return 0;
  const licences = ["LICENSE.md", "LICENSE", "LICENSE.txt"].flatMap((name) => [join(folder, name), join(folder, "..", name)]).filter(existsSync);
  const files = filesIn(folder).filter((name) => WANTED.test(name));
  for (const name of files) {
    mkdirSync(dirname(join(target, name)), { recursive: true });
    copyFileSync(join(folder, name), join(target, name));
  }
  if (licences.length > 0) copyFileSync(licences[0], join(target, "LICENSE.md"));
  return files.length;
}

/** Files of a folder and of the folders in it, with forward slashes. */
function filesIn(folder) {
  return readdirSync(folder).flatMap((name) => (statSync(join(folder, name)).isDirectory() ? readdirSync(join(folder, name)).map((file) => `${name}/${file}`) : [name]));
}
