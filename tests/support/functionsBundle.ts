import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync } from "node:fs";
import { join } from "node:path";
import webpack from "webpack";
import { ROOT } from "../../scripts/sources.js";
import { functionsBundle } from "../../scripts/webpackFunctions.js";

/** The production bundle of the functions for Excel as text, built again only when a source has changed. */
export async function builtFunctions(): Promise<string> {
  const digest = createHash("sha256");
  for (const file of [...filesUnder("src"), ...filesUnder("functions"), "scripts/webpackFunctions.js", "package-lock.json"]) {
    digest.update(`${file}\n`).update(readFileSync(join(ROOT, file)));
  }
  const name = digest.digest("hex").slice(0, 16);
  const folder = join(ROOT, ".cache", "functions");
  const kept = join(folder, `${name}.js`);
  if (!existsSync(kept)) {
    const building = join(folder, `${name}-${process.pid}`);
    mkdirSync(building, { recursive: true });
    await run({ ...functionsBundle({ outDir: building }), mode: "production" } as webpack.Configuration);
    renameSync(join(building, "functions.js"), kept);
  }
  return readFileSync(kept, "utf8");
}

function run(configuration: webpack.Configuration): Promise<void> {
  const compiler = webpack(configuration);
  return new Promise((resolve, reject) => {
    compiler.run((error, stats) => {
      compiler.close(() => {
        if (error) reject(error);
        else if (stats?.hasErrors()) reject(new Error(stats.toString({ preset: "errors-only" })));
        else resolve();
      });
    });
  });
}

function filesUnder(folder: string): string[] {
  return (readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
    .map((entry) => join(entry.parentPath, entry.name).slice(ROOT.length + 1))
    .sort();
}
