import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import CssPlugin from "mini-css-extract-plugin";
import MinimizerPlugin from "minimizer-webpack-plugin";
import webpack from "webpack";
import { EMBEDDED_POLICY, EXCEL_POLICY } from "./scripts/contentSecurityPolicy.js";
import { ROOT } from "./scripts/sources.js";
import { typescriptRule } from "./scripts/webpackFunctions.js";

/** Parts of the embedded page that change only with the lock file: packed once, by far the longest step. */
const SHEET_PARTS = [
  "@univerjs/core",
  "@univerjs/core/facade",
  "@univerjs/engine-formula",
  "@univerjs/preset-sheets-core",
  "@univerjs/preset-sheets-core/locales/en-US",
  "@univerjs/preset-sheets-drawing",
  "@univerjs/preset-sheets-drawing/locales/en-US",
  "@univerjs/sheets",
  "@univerjs/sheets-formula",
  "@univerjs/sheets-table",
  "@univerjs/sheets-table/locale/en-US",
  "react",
  "react-dom",
  "react-dom/client",
  "react/jsx-runtime",
  "rxjs",
];

const SHEET_NAME = "leapsheetSheet";

/**
 * The spreadsheet's packages as one script, with a list of what is in it.
 *
 * @param {string} folder Where the scripts and `sheet.json` go.
 */
export function sheetBundle(folder) {
  return {
    ...common("production"),
    name: "sheet",
    entry: { sheet: SHEET_PARTS },
    output: { path: folder, filename: "[name].[contenthash:8].js", chunkFilename: "sheet-[id].[contenthash:8].js", publicPath: "", library: { name: SHEET_NAME, type: "var" } },
    optimization: { minimizer: [shortNames()] },
    plugins: [new webpack.DllPlugin({ name: SHEET_NAME, path: join(folder, "sheet.json"), context: ROOT })],
  };
}

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
    optimization: { minimizer: [shortNames()] },
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
    optimization: { splitChunks: false },
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
    resolve: { extensions: [".ts", ".tsx", ".js"] },
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

/** Names shortened and no more: a third of the time of full compression for 3 % more bytes. */
const shortNames = () => new MinimizerPlugin({ extractComments: false, terserOptions: { compress: false, mangle: true, format: { comments: /@license|^!/i } } });

const styles = () => new CssPlugin({ filename: "[name].css", chunkFilename: "[name].[contenthash:8].css", ignoreOrder: true });

function page(filename, chunks, parameters) {
  return new HtmlPlugin({ filename, template: `./taskpane/${filename}`, chunks, chunksSortMode: "manual", scriptLoading: "defer", minify: false, templateParameters: parameters });
}
