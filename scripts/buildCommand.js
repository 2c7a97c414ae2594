// Builds the command into dist/command where its sources have changed: one module for each kind of thread to load instead of some hundred, packages left outside.
import { rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import webpack from "webpack";
import { COMMAND, COMMAND_SOURCES, commandIsBuilt } from "./commandIsBuilt.js";
import { root } from "./ensure.js";
import { hashOfSources } from "./sources.js";

if (!commandIsBuilt()) {
  console.error("leapsheet: building the command (once after each change) …");
  const hash = hashOfSources(COMMAND_SOURCES);
  rmSync(path.dirname(COMMAND), { recursive: true, force: true });
  await bundle();
  writeFileSync(path.join(path.dirname(COMMAND), ".sources"), hash);
}

function bundle() {
  const config = {
    mode: "production",
    context: root,
    target: "node20",
    entry: Object.fromEntries(["main", "readingThread", "analysingThread"].map((name) => [name, `./command/${name}.ts`])),
    output: { path: path.dirname(COMMAND), filename: "[name].js", chunkFilename: "[name].js", module: true, library: { type: "module" }, chunkFormat: "module" },
    experiments: { outputModule: true },
    // A thread is started from the file it stands in.
    module: {
      parser: { javascript: { importMeta: false } },
      rules: [
        {
          test: /\.ts$/,
          loader: "ts-loader",
          options: { transpileOnly: true, onlyCompileBundledFiles: true, configFile: path.join(root, "command", "tsconfig.json"), compilerOptions: { noEmit: false, allowImportingTsExtensions: false, removeComments: true } },
        },
      ],
    },
    resolve: { extensions: [".ts", ".js"] },
    // Packages are loaded by the one format that needs them.
    externals: [({ request }, done) => (/^[./]/.test(request) || path.isAbsolute(request) ? done() : done(null, `module ${request}`))],
    optimization: { minimize: false, chunkIds: "named" },
    devtool: false,
    cache: false,
    performance: { hints: false },
  };
  return new Promise((resolve, reject) => {
    webpack(config, (error, stats) => {
      if (error) reject(error);
      else if (stats.hasErrors()) reject(new Error(stats.toString("errors-only")));
      else resolve();
    });
  });
}
