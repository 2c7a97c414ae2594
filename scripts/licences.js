import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT } from "./sources.js";

/** Licences under which a package may be part of what we hand out. */
export const PERMISSIVE = ["MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "0BSD"];

/** Packages whose `package.json` names no licence, and the one their LICENSE file holds. */
const UNNAMED = { "@univerjs/telemetry": "Apache-2.0" };

/**
 * The packages that pages and command are made of (those only development needs are left out), from the lock file.
 *
 * @returns {{ name: string, version: string, licence: string | undefined, text: string }[]} `text`: what their licence file says.
 */
export function runtimePackages() {
  const { packages } = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8"));
  return Object.entries(packages)
    .filter(([path, { dev, devOptional }]) => path !== "" && !dev && !devOptional)
    .map(([path, { version, license }]) => {
      const name = path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);
      return { name, version, licence: license ?? UNNAMED[name], text: licenceText(join(ROOT, path)) };
    })
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.version < b.version ? -1 : 1));
}

function licenceText(folder) {
  try {
    const files = readdirSync(folder).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file));
    return files.map((file) => readFileSync(join(folder, file), "utf8").trim()).join("\n\n");
  } catch {
    return ""; // an optional package for another system, not installed here
  }
}

/** Writes what the build is made of: `third-party-licenses.txt` to read, `bom.json` (CycloneDX 1.5) for machines. */
export function writeLicences({ outDir = join(ROOT, "dist") } = {}) {
  mkdirSync(outDir, { recursive: true });
  const packages = runtimePackages();
  const texts = packages.map(({ name, version, licence, text }) => `${name} ${version}: ${licence}\n\n${text || "(its package holds no licence file)"}`);
  writeFileSync(join(outDir, "third-party-licenses.txt"), `Leapsheet is made with these packages.\n\n${texts.join(`\n\n${"-".repeat(80)}\n\n`)}\n`);
  const { name, version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
  const bom = {
    bomFormat: "CycloneDX",
    specVersion: "1.5",
    version: 1,
    metadata: { component: { type: "application", name, version } },
    components: packages.map((each) => ({
      type: "library",
      name: each.name,
      version: each.version,
      purl: `pkg:npm/${each.name.replace("@", "%40")}@${each.version}`,
      licenses: [{ license: { id: each.licence } }],
    })),
  };
  writeFileSync(join(outDir, "bom.json"), `${JSON.stringify(bom, null, 2)}\n`);
}
