import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import webpack from "webpack";
import { ROOT } from "../../scripts/sources.js";
import { smallest } from "../../scripts/webpackSheet.js";
import { excelPage } from "../../webpack.config.js";

/**
 * The text of `functions.js` as `npm run build` makes it, built again only when a source has changed. It shares its modules with the pane, so
 * the pane is packed too, but not made small.
 */
export async function builtFunctions(): Promise<string> {
  const digest = createHash("sha256");
  for (const file of [...filesUnder("src"), ...filesUnder("functions"), ...filesUnder("taskpane"), "scripts/webpackSheet.js", "webpack.config.js", "package-lock.json"]) {
    digest.update(`${file}\n`).update(readFileSync(join(ROOT, file)));
  }
  const name = digest.digest("hex").slice(0, 16);
  const folder = join(ROOT, ".cache", "functions");
  const kept = join(folder, `${name}.js`);
  if (!existsSync(kept)) {
    const building = join(folder, `${name}-${process.pid}`);
    mkdirSync(building, { recursive: true });
    const configuration = excelPage({ mode: "production" }) as unknown as webpack.Configuration;
    await run({
      ...configuration,
      output: { ...configuration.output, path: building },
      optimization: { ...configuration.optimization, minimizer: [smallest({ include: /functions/ })] } as webpack.Configuration["optimization"],
    });
    renameSync(join(building, "functions.js"), kept);
    rmSync(building, { recursive: true, force: true });
    removeOld(folder);
  }
  return readFileSync(kept, "utf8");
}

/** Takes away what was built of sources that are gone: all but the last few, and nothing that may be being built. */
function removeOld(folder: string): void {
  const HOUR = 3_600_000;
  const byAge = readdirSync(folder)
    .map((name) => ({ path: join(folder, name), age: Date.now() - statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => a.age - b.age);
  for (const { path } of byAge.slice(3).filter(({ age }) => age > HOUR)) rmSync(path, { recursive: true, force: true });
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
    .filter((entry) => entry.isFile() && /\.(tsx?|css|html)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name).slice(ROOT.length + 1))
    .sort();
}
