import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT } from "./sources.js";

/** The address that manifest.xml itself names, for work on one's own machine. */
const OWN_ADDRESS = "https://localhost:3000";

/**
 * The manifest for the address the folder of static files is hosted at.
 *
 * @param {string} url Address of the folder, https, with or without a final slash.
 * @returns {string} The content of manifest.xml with every address replaced.
 */
export function manifestFor(url) {
  const address = new URL(url);
  if (address.protocol !== "https:") throw new Error(`Excel loads add-ins over https only, not from ${url}`);
  if (address.search !== "" || address.hash !== "") throw new Error(`the address must name a folder, without ? or #: ${url}`);
  const folder = address.href.replace(/\/+$/, "").replaceAll("&", "&amp;").replaceAll('"', "&quot;");
  return readFileSync(join(ROOT, "manifest.xml"), "utf8").replaceAll(OWN_ADDRESS, () => folder);
}

/** Writes `manifest.xml` for an address into a folder. */
export function writeManifest({ outDir = join(ROOT, "dist"), url = OWN_ADDRESS } = {}) {
  mkdirSync(outDir, { recursive: true });
  writeFileSync(join(outDir, "manifest.xml"), manifestFor(url));
}
