// What must be on the machine before anything else runs. Uses Node's own modules only: nothing is installed yet.
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { createHash } from "node:crypto";
import { fileURLToPath } from "node:url";
import path from "node:path";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");

/** Runs a command in the project folder with its output shown; returns the exit code. */
export function run(command, args, options = {}) {
  const done = spawnSync(command, args, { cwd: root, stdio: "inherit", ...options });
  if (done.error) {
    console.error(`${command}: ${done.error.message}`);
    return 1;
  }
  return done.status ?? 1;
}

export function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Leapsheet needs Node 20.19 or later; this is ${process.versions.node}.`);
    process.exit(1);
  }
}

/** Installs the packages of the lock file where they are missing or the lock file has changed since. */
export function ensurePackages() {
  const lock = createHash("sha256").update(readFileSync(path.join(root, "package-lock.json"))).digest("hex");
  const mark = path.join(root, "node_modules", ".leapsheet-lock");
  if (existsSync(mark) && readFileSync(mark, "utf8") === lock) {
    return;
  }
  if (installedAsLocked()) {
    writeFileSync(mark, lock);
    return;
  }
  const began = Date.now();
  console.log("Installing packages (once; about a minute) …");
  const npm = process.platform === "win32" ? "npm.cmd" : "npm";
  const code = run(npm, ["ci", "--no-audit", "--no-fund", "--loglevel=error"], { shell: process.platform === "win32" });
  if (code !== 0) {
    console.error("The packages could not be installed; see the lines above.");
    process.exit(code);
  }
  writeFileSync(mark, lock);
  console.log(`Packages installed in ${((Date.now() - began) / 1000).toFixed(0)} s.`);
}

/** Whether npm's own list of what stands in `node_modules` has every package of the lock file in its version: a plain `npm install` did the work. */
function installedAsLocked() {
  try {
    const [wanted, present] = ["package-lock.json", "node_modules/.package-lock.json"].map((file) => JSON.parse(readFileSync(path.join(root, file), "utf8")).packages);
    return Object.entries(wanted).every(([name, { version, optional }]) => name === "" || optional || present[name]?.version === version);
  } catch {
    return false;
  }
}

const BROWSERS = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

/** Path of a Chromium the browser tests can drive: the CHROMIUM variable, else the first on the PATH. */
export function findChromium() {
  if (process.env.CHROMIUM && existsSync(process.env.CHROMIUM)) {
    return process.env.CHROMIUM;
  }
  for (const folder of (process.env.PATH ?? "").split(path.delimiter)) {
    for (const name of BROWSERS) {
      const candidate = path.join(folder, name);
      if (existsSync(candidate)) {
        return candidate;
      }
    }
  }
  return undefined;
}

/** Finds a Chromium, installing Debian's where none is found and the machine allows it. */
export function ensureChromium() {
  const found = findChromium();
  if (found) {
    return found;
  }
  if (process.platform === "linux" && process.getuid?.() === 0 && existsSync("/usr/bin/apt-get")) {
    console.log("Installing Debian's Chromium for the browser tests (once) …");
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    run("apt-get", ["update", "-qq"], { env });
    run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-dejavu-core"], { env, stdio: ["ignore", "ignore", "inherit"] });
    return findChromium();
  }
  return undefined;
}
