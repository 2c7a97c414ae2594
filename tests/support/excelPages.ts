import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import webpack from "webpack";
import { officeScript } from "../../scripts/officeScript.js";
import { excelHtml } from "../../webpack.config.js";

/**
 * Writes `taskpane.html` into a folder as the build does, with the two scripts that it names empty.
 *
 * @param officeJs What `--office-js` is given.
 * @returns The text of the page.
 */
export async function excelPages(folder: string, officeJs?: string): Promise<string> {
  const sources = join(folder, "sources");
  mkdirSync(sources, { recursive: true });
  for (const name of ["functions", "taskpane"]) writeFileSync(join(sources, `${name}.js`), "");
  const compiler = webpack({
    mode: "production",
    context: join(import.meta.dirname, "..", ".."),
    entry: { functions: join(sources, "functions.js"), taskpane: join(sources, "taskpane.js") },
    output: { path: folder, filename: "[name].js", publicPath: "" },
    optimization: { minimize: false },
    plugins: [excelHtml(officeScript(officeJs)) as unknown as webpack.WebpackPluginInstance],
  });
  await new Promise<void>((resolve, reject) => {
    compiler.run((error, stats) => {
      compiler.close(() => {
        if (error || stats?.hasErrors()) reject(error ?? new Error(stats?.toString({ preset: "errors-only" })));
        else resolve();
      });
    });
  });
  return readFileSync(join(folder, "taskpane.html"), "utf8");
}
