// `npm run sentences`: writes the English texts that stand beside their data, as keys for a translation of them.
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { loadSource } from "./loadSource.js";
import { ROOT } from "./sources.js";

/** Where sentences stand in the code itself; what has tables of its own (`src/wording/en`, the pane's words) is left out. */
const ROOMS = ["src", "functions", "taskpane/host", "taskpane/workbook", "taskpane/decide", "taskpane/pane", "taskpane/embedded"];
const PAGES = ["taskpane/embedded.ts"];
const TABLES = [/^src\/wording\/en\//, /^src\/catalogue\/(?!resolveMetricName|units)/, /^src\/settings\/definitions/, /^taskpane\/pane\/words\.ts$/, /^taskpane\/pane\/.*\.tsx$/];
/** A text for a person: at least two words, or one beside what is put in; no code, path or style. */
const SENTENCE = /\p{L}{2,}.* .*\p{L}{2,}|\p{L}{3,} [A-Z]|\p{L}{3,} \{1\}|\{\d\} \p{L}{3,}/su;
const NO_SENTENCE = /^(?:src|https?:)|\.\.\/|<\/?\w|=>|[@\\]|;\w[\w-]*:|^\([\w-]+: |px /;

/**
 * Every English text that `inLanguage` may be asked for.
 *
 * Of the catalogue, the settings, the formulas and the equations, read from them; of errors and of what readers say, read from the code, with `{1}`,
 * `{2}` … where something is put in. Rather too many than too few: a key that is never asked for does no harm.
 *
 * @returns {Promise<readonly string[]>} Keys of `Texts.sentences`, in alphabetical order.
 */
export async function sentencesToTranslate() {
  const keys = new Set([...(await textsOfData()), ...textsOfCode()]);
  return [...keys].sort();
}

async function textsOfData() {
  const { METRICS } = await loadSource("src/catalogue/metrics.ts");
  const { SETTINGS } = await loadSource("src/settings/definitions.ts");
  const { ASYMMETRY_FORMULAS } = await loadSource("src/metrics/asymmetry.ts");
  const { POWER_EQUATIONS } = await loadSource("src/metrics/powerEstimate.ts");
  // Ids of metrics are the same in every language.
  const metrics = new Set(METRICS.map(({ id }) => id));
  return [
    ...METRICS.flatMap(({ name, definition, assumptions, watchFor, range }) => [name, definition, ...assumptions, ...watchFor, ...(range ? [range.text] : [])]),
    ...SETTINGS.flatMap(({ label, description, source, options, unit }) => [label, description, source, ...(/\p{L}{4,}/u.test(unit ?? "") ? [unit] : []), ...(options ?? []).filter((option) => !metrics.has(option))]),
    ...ASYMMETRY_FORMULAS.flatMap(({ name, note }) => [name, ...(note ? [note] : [])]),
    ...POWER_EQUATIONS.flatMap(({ name, note }) => [name, note]),
    // Single words of the bar above the embedded sheet.
    "Close",
    "Open…",
    "Saving …",
    "Settings",
    "common practice",
    "{1} to {2}",
  ];
}

function textsOfCode() {
  const ts = createRequire(import.meta.url)("typescript");
  const found = new Set();
  const visit = (node) => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isLiteralTypeNode(node)) return;
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) add(node.text);
    else if (ts.isTemplateExpression(node)) {
      add(node.head.text + node.templateSpans.map(({ literal }, place) => `{${place + 1}}${literal.text}`).join(""));
      // What is put in may itself be one of two words.
      for (const { expression } of node.templateSpans) words(expression);
    }
    ts.forEachChild(node, visit);
  };
  const add = (text) => {
    if (SENTENCE.test(text) && !NO_SENTENCE.test(text)) found.add(text);
  };
  const words = (node) => {
    if (ts.isConditionalExpression(node)) for (const branch of [node.whenTrue, node.whenFalse]) if (ts.isStringLiteral(branch) && /^\p{L}{2,}$/u.test(branch.text)) found.add(branch.text);
  };
  for (const file of [...ROOMS.flatMap((room) => filesUnder(join(ROOT, room))), ...PAGES.map((page) => join(ROOT, page))]) {
    const path = relative(ROOT, file).replaceAll("\\", "/");
    if (TABLES.some((table) => table.test(path))) continue;
    visit(ts.createSourceFile(path, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true));
  }
  return found;
}

function filesUnder(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesUnder(path) : /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const keys = await sentencesToTranslate();
  console.log(`${JSON.stringify(Object.fromEntries(keys.map((key) => [key, key])), null, 2)}`);
}
