// `npm run docs`: writes the reference pages of `docs/reference` from the sources.
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { referencePages } from "./referencePages.js";
import { ROOT } from "./sources.js";

const DOCS = join(ROOT, "docs");

/**
 * Writes the reference pages into the documentation folder.
 *
 * @returns {Promise<string[]>} The pages that changed, from the project folder.
 */
export async function writeReference() {
  const changed = [];
  for (const [path, text] of await referencePages()) {
    const file = join(DOCS, path);
    if (textOf(file) === text) continue;
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    changed.push(relative(ROOT, file));
  }
  return changed;
}

/**
 * Renders every page of the documentation to plain HTML with MathML, without scripts. The reference is made afresh; the
 * folder of the documentation is only read.
 *
 * @param {{ outDir: string }} options Folder to write to; what is in it goes.
 * @returns {Promise<string[]>} Files written, from the folder.
 */
export async function writePages({ outDir }) {
  const reference = await referencePages();
  rmSync(outDir, { recursive: true, force: true });
  const written = [];
  for (const name of new Set([...filesUnder(DOCS).map((file) => relative(DOCS, file).replaceAll("\\", "/")), ...reference.keys()])) {
    const target = join(outDir, name.replace(/\.md$/, ".html"));
    mkdirSync(dirname(target), { recursive: true });
    if (name.endsWith(".md")) writeFileSync(target, await htmlOf(reference.get(name) ?? readFileSync(join(DOCS, name), "utf8"), name));
    else copyFileSync(join(DOCS, name), target);
    written.push(relative(outDir, target));
  }
  writeFileSync(join(outDir, "docs.css"), STYLE);
  return [...written, "docs.css"];
}

/**
 * One page as HTML: formulas between `$$` become MathML, links to pages become links to their HTML.
 *
 * @param {string} markdown
 * @param {string} name Path of the page from `docs/`.
 * @returns {Promise<string>}
 */
export async function htmlOf(markdown, name) {
  const { Marked } = await import("marked");
  const { default: temml } = await import("temml");
  const formulas = [];
  // Formulas are set aside, so that Markdown does not read their underscores.
  const held = markdown.replace(/^\$\$\n([\s\S]*?)\n\$\$$/gm, (_, formula) => `\n<p>FORMULA-${formulas.push(formula) - 1}-</p>\n`);
  const marked = new Marked({
    walkTokens(token) {
      if (token.type === "link" && !/^[a-z]+:/i.test(token.href)) token.href = token.href.replace(/\.md(?=#|$)/, ".html");
    },
  });
  const body = (await marked.parse(held)).replace(/<p>FORMULA-(\d+)-<\/p>/g, (_, index) => temml.renderToString(formulas[Number(index)], { displayMode: true, throwOnError: true }));
  const up = "../".repeat(name.split(/[\\/]/).length - 1);
  const title = /^# (.*)$/m.exec(markdown)?.[1] ?? "Leapsheet";
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title.replace(/</g, "&lt;")} – Leapsheet</title>
<link rel="stylesheet" href="${up}docs.css">
</head>
<body>
<nav><a href="${up}index.html">Leapsheet documentation</a></nav>
<main>
${body.trim()}
</main>
</body>
</html>
`;
}

/** Every file under a folder, in the order of the alphabet. */
export function filesUnder(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => (entry.isDirectory() ? filesUnder(join(folder, entry.name)) : [join(folder, entry.name)]));
}

function textOf(file) {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    if (error.code === "ENOENT") return undefined;
    throw error;
  }
}

const STYLE = `:root { color-scheme: light dark; }
body { margin: 0 auto; max-width: 46rem; padding: 1rem; font: 1rem/1.5 system-ui, sans-serif; }
nav { margin-bottom: 1rem; }
table { border-collapse: collapse; }
th, td { border: 1px solid color-mix(in srgb, currentColor 30%, transparent); padding: 0.2rem 0.5rem; text-align: start; vertical-align: top; }
thead:not(:has(th:not(:empty))) { display: none; }
pre, code { font-family: ui-monospace, monospace; font-size: 0.9em; }
pre { overflow-x: auto; padding: 0.5rem; border: 1px solid color-mix(in srgb, currentColor 20%, transparent); }
img { max-width: 100%; }
math { font-size: 1.1em; margin-block: 0.5em; overflow-x: auto; }
`;

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const changed = await writeReference();
  console.log(changed.length > 0 ? changed.join("\n") : "the reference pages are up to date");
}
