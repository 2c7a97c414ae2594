import { spawn } from "node:child_process";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { checkNode, ensurePackages, root } from "./ensure.js";

// Node's own parts only up to here: packages may not be installed yet.
const started = Date.now();
try {
  const { values } = parseArgs({ options: { port: { type: "string", default: "3000" }, "no-open": { type: "boolean", default: false } } });
  const port = Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) throw new Error("--port requires a whole number from 0 to 65535");
  checkNode();
  ensurePackages();
  const { build } = await import("./build.js");
  const { serve } = await import("./serve.js");
  if (!(await build())) console.log("nothing changed since the last build");
  const { url } = await serve({ folder: join(root, "dist"), port });
  console.log(`\nLeapsheet is ready after ${((Date.now() - started) / 1000).toFixed(1)} s:\n\n  ${url}\n\nEverything stays on this computer. Stop with Ctrl+C.`);
  if (!values["no-open"]) open(url);
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
