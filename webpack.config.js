import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import CssPlugin from "mini-css-extract-plugin";
import webpack from "webpack";
import { EMBEDDED_POLICY, EXCEL_POLICY } from "./scripts/contentSecurityPolicy.js";
import { ROOT } from "./scripts/sources.js";
import { resolve, typescriptRule } from "./scripts/webpackFunctions.js";
import { SHEET_NAME, smallest, withoutUnused } from "./scripts/webpackSheet.js";

/**
 * `embedded.html`: the sheet that ships with the project, the pane beside it.
 *
 * @param {{ mode: string, sheetFolder: string, sheetFile: string }} options `sheetFile`: the script in `sheetFolder` that the page starts with.
 */
export function embeddedPage({ mode, sheetFolder, sheetFile }) {
  return {
    ...common(mode),
    name: "embedded",
    entry: { embedded: "./taskpane/embedded.ts" },
    optimization: { minimizer: [withoutUnused()] },
    cache: { type: "filesystem", cacheDirectory: join(ROOT, ".cache", "webpack"), name: mode, compression: false, maxMemoryGenerations: 1, buildDependencies: { config: [join(ROOT, "webpack.config.js")] } },
    plugins: [
      new webpack.DllReferencePlugin({ context: ROOT, name: SHEET_NAME, manifest: createRequire(import.meta.url)(join(sheetFolder, "sheet.json")) }),
      styles(),
      page("embedded.html", ["embedded"], { policy: EMBEDDED_POLICY, sheetFile }),
      new CopyPlugin({ patterns: [{ from: "taskpane/assets", to: "assets" }, { from: "*.js", context: sheetFolder, info: { minimized: true } }] }),
    ],
  };
}

/**
 * `taskpane.html`: the pane inside Excel. It loads `functions.js` too, so that both share one runtime and one copy of the
 * modules: the pane reads the records the functions write.
 */
export function excelPage({ mode }) {
  const hasPane = existsSync(join(ROOT, "taskpane", "taskpane.ts"));
  return {
    ...common(mode),
    name: "excel",
    entry: {
      functions: "./functions/excel.ts",
      ...(hasPane && { taskpane: { import: "./taskpane/taskpane.ts", dependOn: "functions" } }),
    },
    // `functions.js` and `taskpane.js` stay one file each: Excel may load the first by itself.
    optimization: { splitChunks: false, minimizer: [smallest({ include: /functions/ }), withoutUnused({ exclude: /functions/ })] },
    plugins: [styles(), ...(hasPane ? [page("taskpane.html", ["functions", "taskpane"], { policy: EXCEL_POLICY })] : [])],
  };
}

function common(mode) {
  return {
    mode,
    context: ROOT,
    target: ["web", "es2022"],
    devtool: mode === "production" ? false : "source-map",
    output: { path: join(ROOT, "dist"), filename: "[name].js", chunkFilename: "[name].[contenthash:8].js", assetModuleFilename: "assets/[name].[contenthash:8][ext]", publicPath: "" },
    resolve,
    module: {
      rules: [
        { ...typescriptRule, options: { ...typescriptRule.options, configFile: join(ROOT, "taskpane", "tsconfig.json") } },
        { test: /\.css$/, use: [CssPlugin.loader, "css-loader"], sideEffects: true },
        { test: /\.(png|svg|woff2?)$/, type: "asset/resource" },
      ],
    },
    cache: false,
    performance: { hints: false },
    stats: "errors-warnings",
    infrastructureLogging: { level: "error" },
  };
}

const styles = () => new CssPlugin({ filename: "[name].css", chunkFilename: "[name].[contenthash:8].css", ignoreOrder: true });

function page(filename, chunks, parameters) {
  return new HtmlPlugin({ filename, template: `./taskpane/${filename}`, chunks, chunksSortMode: "manual", scriptLoading: "defer", minify: false, templateParameters: parameters });
}
