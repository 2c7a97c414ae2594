import { join } from "node:path";
import { ROOT } from "./sources.js";

/** How TypeScript sources are loaded: types are checked apart, imports carry their `.ts` extension. */
export const typescriptRule = {
  test: /\.tsx?$/,
  exclude: /node_modules/,
  loader: "ts-loader",
  options: {
    transpileOnly: true,
    onlyCompileBundledFiles: true,
    configFile: join(ROOT, "functions", "tsconfig.json"),
    compilerOptions: { noEmit: false, allowImportingTsExtensions: false },
  },
};

/** Where imports lead. */
export const resolve = { extensions: [".ts", ".tsx", ".js"] };

/**
 * The functions bundle for Excel, on its own. A page that also has the pane must share its modules
 * (one map of call records, one cache): there, use `functions/excel.ts` as the entry on which the
 * pane's entry depends.
 *
 * @param {{ mode?: "production" | "development", outDir?: string }} [options]
 */
export function functionsBundle({ mode = "production", outDir = join(ROOT, "dist") } = {}) {
  return {
    mode,
    target: ["web", "es2022"],
    devtool: false,
    context: ROOT,
    entry: { functions: join(ROOT, "functions", "excel.ts") },
    output: { path: outDir, filename: "[name].js" },
    resolve,
    module: { rules: [typescriptRule] },
    performance: { hints: false },
  };
}
