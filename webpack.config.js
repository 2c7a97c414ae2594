import { existsSync } from "node:fs";
import { join } from "node:path";
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import CssPlugin from "mini-css-extract-plugin";
import { EMBEDDED_POLICY, EXCEL_POLICY } from "./scripts/contentSecurityPolicy.js";
import { ROOT } from "./scripts/sources.js";

/**
 * Two pages and one bundle of functions:
 * - `embedded.html`: the sheet that ships with the project, the pane beside it;
 * - `taskpane.html`: the pane inside Excel, which also loads `functions.js`, so that both share one runtime.
 *
 * What is here today in the sources is built; an entry whose file does not exist is left out.
 */
export default function configure({ mode = "production" } = {}) {
  const has = (path) => existsSync(join(ROOT, path));
  const excelPage = has("functions/excel.ts") && has("taskpane/taskpane.ts");
  return {
    name: "pages",
    mode,
    context: ROOT,
    target: ["web", "es2022"],
    devtool: mode === "production" ? false : "source-map",
    entry: {
      embedded: "./taskpane/embedded.ts",
      ...(has("functions/excel.ts") && { functions: "./functions/excel.ts" }),
      // One runtime and one copy of the modules: the pane reads the records the functions write.
      ...(excelPage && { taskpane: { import: "./taskpane/taskpane.ts", dependOn: "functions" } }),
    },
    output: {
      path: join(ROOT, "dist"),
      filename: "[name].js",
      chunkFilename: "[name].[contenthash:8].js",
      assetModuleFilename: "assets/[name].[contenthash:8][ext]",
      publicPath: "",
    },
    resolve: { extensions: [".ts", ".tsx", ".js"] },
    module: {
      rules: [
        { test: /\.tsx?$/, exclude: /node_modules/, use: { loader: "ts-loader", options: TYPESCRIPT } },
        { test: /\.css$/, use: [CssPlugin.loader, "css-loader"], sideEffects: true },
        { test: /\.(png|svg|woff2?)$/, type: "asset/resource" },
      ],
    },
    optimization: {
      // `functions.js` stays one file: Excel may load it by itself.
      splitChunks: {
        chunks: (chunk) => chunk.name !== "functions" && chunk.name !== "taskpane",
        cacheGroups: {
          sheet: { test: /[\\/]node_modules[\\/]@univerjs[\\/]/, name: "sheet", chunks: (chunk) => chunk.name === "embedded", priority: 20 },
        },
      },
    },
    plugins: [
      new CssPlugin({ filename: "[name].css", chunkFilename: "[name].[contenthash:8].css", ignoreOrder: true }),
      page("embedded.html", ["embedded"], EMBEDDED_POLICY),
      ...(excelPage ? [page("taskpane.html", ["functions", "taskpane"], EXCEL_POLICY)] : []),
      ...(has("taskpane/assets") ? [new CopyPlugin({ patterns: [{ from: "taskpane/assets", to: "assets" }] })] : []),
    ],
    cache: { type: "filesystem", cacheDirectory: join(ROOT, ".cache", "webpack"), name: `pages-${mode}`, buildDependencies: { config: [join(ROOT, "webpack.config.js")] } },
    performance: { hints: false },
    stats: "errors-warnings",
    infrastructureLogging: { level: "error" },
  };
}

/** Types are checked apart (`npm run types`); here they are only taken out. */
const TYPESCRIPT = {
  transpileOnly: true,
  onlyCompileBundledFiles: true,
  configFile: join(ROOT, "taskpane", "tsconfig.json"),
  compilerOptions: { noEmit: false, allowImportingTsExtensions: false, sourceMap: false },
};

function page(filename, chunks, policy) {
  return new HtmlPlugin({ filename, template: `./taskpane/${filename}`, chunks, chunksSortMode: "manual", scriptLoading: "defer", minify: false, templateParameters: { policy } });
}
