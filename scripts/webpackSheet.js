import { join } from "node:path";
import MinimizerPlugin from "minimizer-webpack-plugin";
import webpack from "webpack";
import { ROOT } from "./sources.js";

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
  "@univerjs/sheets-filter",
  "@univerjs/sheets-filter-ui",
  "@univerjs/sheets-filter-ui/locale/en-US",
  "@univerjs/sheets-formula",
  "@univerjs/sheets-sort",
  "@univerjs/sheets-sort-ui",
  "@univerjs/sheets-sort-ui/locale/en-US",
  "@univerjs/sheets-table",
  "@univerjs/sheets-table/locale/en-US",
  "@univerjs/sheets-table-ui",
  "@univerjs/sheets-table-ui/locale/en-US",
  "react",
  "react-dom",
  "react-dom/client",
  "react/jsx-runtime",
  "rxjs",
];

/** The variable through which the page reaches them. */
export const SHEET_NAME = "leapsheetSheet";

/** Names shortened and no more: a third of the time of full compression for 3 % more bytes. */
const shortNames = () => minimizer({ compress: false });

/** Names shortened and what nobody uses taken out (the pane's library of icons, above all). */
export const withoutUnused = (files) => minimizer({ compress: { defaults: false, unused: true, dead_code: true, side_effects: true, conditionals: true, evaluate: true } }, files);

/** As small as it gets: for the functions, which Excel loads at its start. */
export const smallest = (files) => minimizer({ compress: { passes: 2 } }, files);

/** @param {{ include?: RegExp, exclude?: RegExp }} [files] */
const minimizer = (options, files = {}) => new MinimizerPlugin({ ...files, extractComments: false, terserOptions: { ...options, mangle: true, format: { comments: /@license|^!/i } } });

/**
 * The spreadsheet's packages as one script and its later parts, with a list of what is in them.
 *
 * @param {string} folder Where the scripts and `sheet.json` go.
 */
export function sheetBundle(folder) {
  return {
    name: "sheet",
    mode: "production",
    context: ROOT,
    target: ["web", "es2022"],
    devtool: false,
    entry: { sheet: SHEET_PARTS },
    output: { path: folder, filename: "[name].[contenthash:8].js", chunkFilename: "sheet-[id].[contenthash:8].js", publicPath: "", library: { name: SHEET_NAME, type: "var" } },
    module: { rules: [{ test: /\.css$/, type: "asset/source" }] },
    optimization: { minimizer: [shortNames()] },
    plugins: [new webpack.DllPlugin({ name: SHEET_NAME, path: join(folder, "sheet.json"), context: ROOT })],
    performance: { hints: false },
    stats: "errors-warnings",
    infrastructureLogging: { level: "error" },
  };
}
