import { createRequire } from "node:module";
import { join } from "node:path";
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import CssPlugin from "mini-css-extract-plugin";
import webpack from "webpack";
import { EMBEDDED_POLICY, excelPolicy } from "./scripts/contentSecurityPolicy.js";
import { officeScript } from "./scripts/officeScript.js";
import { ROOT } from "./scripts/sources.js";
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
 *
 * @param {{ mode: string, officeJs?: string }} options `officeJs`: where Office.js comes from, see `officeScript`.
 */
export function excelPage({ mode, officeJs }) {
  return {
    ...common(mode),
    name: "excel",
    entry: { functions: "./functions/excel.ts", taskpane: { import: "./taskpane/taskpane.ts", dependOn: "functions" } },
    optimization: {
      // `functions.js` and `taskpane.js` stay one file each: Excel may load the first by itself.
      splitChunks: false,
      // What the pane shares cannot be merged into one module, so short names count.
      ...(mode === "production" && { moduleIds: "size", mangleExports: "size" }),
      minimizer: [smallest({ include: /functions/ }), withoutUnused({ exclude: /functions/ })],
    },
    plugins: [styles(), excelHtml(officeScript(officeJs))],
  };
}

/** `taskpane.html` itself, for a place of Office.js. */
export const excelHtml = (office) => page("taskpane.html", ["functions", "taskpane"], { policy: excelPolicy(office), officeScript: office.src });

/** How TypeScript sources are loaded: types are checked apart, imports carry their `.ts` extension. */
const typescriptRule = {
  test: /\.tsx?$/,
  exclude: /node_modules/,
  loader: "ts-loader",
  options: {
    transpileOnly: true,
    onlyCompileBundledFiles: true,
    configFile: join(ROOT, "taskpane", "tsconfig.json"),
    compilerOptions: { noEmit: false, allowImportingTsExtensions: false },
  },
};

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
        typescriptRule,
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
