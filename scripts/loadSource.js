import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, relative, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { ROOT } from "./sources.js";

const OUT = join(ROOT, ".cache", "sources");

/**
 * Imports a module of `src` into a script: it and what it imports are transpiled, without a type check, into `.cache`.
 *
 * @param {string} path Path of the TypeScript file from the project folder.
 * @returns {Promise<any>} The module.
 */
export async function loadSource(path) {
  const seen = new Set();
  const queue = [join(ROOT, path)];
  while (queue.length > 0) {
    const file = queue.pop();
    if (seen.has(file)) continue;
    seen.add(file);
    queue.push(...transpiled(file));
  }
  return import(pathToFileURL(outputOf(join(ROOT, path))).href);
}

const outputOf = (file) => join(OUT, relative(ROOT, file)).replace(/\.ts$/, ".js");

/** Transpiles one file where its text has changed; returns the files it imports. */
function transpiled(file) {
  const source = readFileSync(file, "utf8");
  const output = outputOf(file);
  const kept = `${output}.source`;
  if (!existsSync(output) || !existsSync(kept) || readFileSync(kept, "utf8") !== source) {
    const ts = createRequire(import.meta.url)("typescript");
    const { outputText } = ts.transpileModule(source, {
      fileName: file,
      compilerOptions: {
        target: ts.ScriptTarget.ES2022,
        module: ts.ModuleKind.ESNext,
        verbatimModuleSyntax: true,
        rewriteRelativeImportExtensions: true,
      },
    });
    mkdirSync(dirname(output), { recursive: true });
    writeFileSync(output, outputText);
    writeFileSync(kept, source);
  }
  return [...readFileSync(output, "utf8").matchAll(/from "(\.[^"]+)\.js"/g)].map((match) => resolve(dirname(file), `${match[1]}.ts`));
}
