import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { checkNode, ensurePackages, root } from "./ensure.js";

// Node's own parts only up to here: packages may not be installed yet.
const started = Date.now();
try {
  const { values } = parseArgs({ options: { port: { type: "string", default: "3000" }, "no-open": { type: "boolean", default: false }, excel: { type: "boolean", default: false } } });
  const port = Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) throw new Error("--port requires a whole number from 0 to 65535");
  checkNode();
  const certificate = values.excel ? ownCertificate() : undefined;
  ensurePackages();
  const { build } = await import("./build.js");
  const { serve } = await import("./serve.js");
  if (!(await build())) console.log("nothing changed since the last build");
  const { url } = await serve({ folder: join(root, "dist"), port, certificate });
  console.log(`\nLeapsheet is ready after ${((Date.now() - started) / 1000).toFixed(1)} s:\n\n  ${url}\n\nEverything stays on this computer. Stop with Ctrl+C.`);
  if (values.excel) {
    if (new URL(url).port !== "3000") console.log("\nThe manifest names port 3000: free it, then start again.");
    console.log(`\nHand Excel this manifest while this runs (docs/guide/excel.md says how on each system):\n\n  ${join(root, "dist", "manifest.xml")}`);
  } else if (!values["no-open"]) open(url);
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}

/** Opens the page where there is a desktop to open it on. */
function open(url) {
  const desktop = process.env.DISPLAY || process.env.WAYLAND_DISPLAY ? ["xdg-open"] : undefined;
  const command = { darwin: ["open"], win32: ["cmd", "/c", "start", ""] }[process.platform] ?? desktop;
  if (!command) return;
  const child = spawn(command[0], [...command.slice(1), url], { stdio: "ignore", detached: true });
  child.on("error", () => {});
  child.unref();
}

/** The certificate that Microsoft's tool for developers makes for this machine; Excel trusts no other page of one's own. */
function ownCertificate() {
  const folder = join(homedir(), ".office-addin-dev-certs");
  try {
    return { cert: readFileSync(join(folder, "localhost.crt")), key: readFileSync(join(folder, "localhost.key")) };
  } catch {
    throw new Error("Excel asks for a certificate that this machine trusts; make one with\n\n  npx -y office-addin-dev-certs@3.0.0 install\n\nand start again.");
  }
}
