import { existsSync, readFileSync } from "node:fs";
import { dirname, join, normalize, relative } from "node:path";
import { describe, expect, test } from "vitest";
import { filesUnder, htmlOf } from "../scripts/docs.js";
import { functionsMetadata } from "../scripts/metadata.js";
import { referencePages } from "../scripts/referencePages.js";
import { CellError } from "../functions/index.ts";
import { METRICS } from "../src/catalogue/metrics.ts";
import { REFERENCES } from "../src/catalogue/references.ts";
import { SETTINGS } from "../src/settings/definitions.ts";
import { evaluateFormula } from "./support/evaluateFormula.ts";

const ROOT = join(import.meta.dirname, "..");
const DOCS = join(ROOT, "docs");
const pages: readonly string[] = [...filesUnder(DOCS).filter((file: string) => file.endsWith(".md")), join(ROOT, "README.md"), join(ROOT, "DEVELOPERS.md")];

const textOf = (file: string): string => readFileSync(file, "utf8");

/** The anchors of a page: explicit ones, and those that Markdown gives to headings. */
function anchorsOf(file: string): ReadonlySet<string> {
  const text = textOf(file);
  const explicit = [...text.matchAll(/<a id="([^"]+)">/g)].map((match) => match[1]!);
  const headings = [...text.matchAll(/^#{1,6} (.*)$/gm)].map((match) =>
    match[1]!.replace(/<[^>]*>/g, "").toLowerCase().replace(/[^\p{L}\d\s-]/gu, "").trim().replace(/\s/g, "-"),
  );
  return new Set([...explicit, ...headings]);
}

describe("documentation", () => {
  test("the reference pages are what `npm run docs` makes of the sources", async () => {
    const stale: string[] = [];
    for (const [path, text] of (await referencePages()) as Map<string, string>) {
      const file = join(DOCS, path);
      if (!existsSync(file) || textOf(file) !== text) stale.push(path);
    }
    expect(stale, "run `npm run docs` and commit what it writes").toEqual([]);
  });

  test("the same sources give the same pages", async () => {
    expect([...(await referencePages())]).toEqual([...(await referencePages())]);
  });

  test.each(pages.map((file) => [relative(ROOT, file), file] as const))("%s has no dead link", (_, file) => {
    const dead: string[] = [];
    const text = textOf(file).replace(/```[\s\S]*?```/g, "").replace(/`[^`\n]*`/g, "");
    for (const [, href] of text.matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^(https?|mailto):/.test(href!)) continue;
      const [path, anchor] = href!.split("#") as [string, string?];
      const target = path === "" ? file : normalize(join(dirname(file), path));
      if (!existsSync(target)) dead.push(href!);
      else if (anchor !== undefined && !anchorsOf(target).has(anchor)) dead.push(href!);
    }
    expect(dead).toEqual([]);
  });

  test("every metric, setting, source and cell function has its place", async () => {
    const missing = (page: string, ids: readonly string[]): readonly string[] => {
      const anchors = anchorsOf(join(DOCS, "reference", page));
      return ids.filter((id) => !anchors.has(id));
    };
    const { functions } = (await functionsMetadata()) as { functions: readonly { id: string }[] };
    expect(missing("metrics.md", METRICS.map(({ id }) => id))).toEqual([]);
    expect(missing("settings.md", SETTINGS.map(({ id }) => id))).toEqual([]);
    expect(missing("sources.md", Object.keys(REFERENCES))).toEqual([]);
    expect(missing("functions.md", functions.map(({ id }) => id.toLowerCase()))).toEqual([]);
  });

  test("every formula in the guide that needs no sheet gives what the page says", async () => {
    const rows = pages.flatMap((file) => [...textOf(file).matchAll(/^\| `(=[^`]*LEAP\.[^`]+)` \| (.+) \|$/gm)].map((match) => ({ file: relative(ROOT, file), formula: match[1]!, says: match[2]! })));
    expect(rows.length).toBeGreaterThan(10);
    for (const { file, formula, says } of rows) {
      const picked = /^=INDEX\((.+),(\d+),(\d+)\)$/.exec(formula);
      const result = await evaluateFormula(picked ? `=${picked[1]}` : formula);
      const value = Array.isArray(result) ? (result as unknown[][])[Number(picked?.[2] ?? 1) - 1]![Number(picked?.[3] ?? 1) - 1] : result;
      if (typeof value === "number") expect(value.toFixed(says.split(".")[1]?.length ?? 0), `${file}: ${formula}`).toBe(says);
      else expect(value, `${file}: ${formula}`).toBe(says);
    }
  });

  test("every formula in a block of the guide that needs no sheet gives no error", async () => {
    const formulas = pages.flatMap((file) => [...textOf(file).matchAll(/^=LEAP\.[A-Z_]+\(.*\)$/gm)].map(([formula]) => formula)).filter((formula) => !/[A-Z]+\d+:[A-Z]+\d+/.test(formula));
    expect(formulas.length).toBeGreaterThan(3);
    for (const formula of formulas) expect(await evaluateFormula(formula), formula).not.toBeInstanceOf(CellError);
  });

  test("every page is reached from the index", () => {
    const reached = new Set<string>();
    const queue = [join(DOCS, "index.md")];
    while (queue.length > 0) {
      const file = queue.pop()!;
      if (reached.has(file) || !file.endsWith(".md") || !existsSync(file)) continue;
      reached.add(file);
      for (const [, href] of textOf(file).matchAll(/\]\(([^)\s#]+)(?:#[^)]*)?\)/g)) {
        if (!/^[a-z]+:/.test(href!)) queue.push(normalize(join(dirname(file), href!)));
      }
    }
    expect(pages.filter((file) => file.startsWith(DOCS) && !reached.has(file)).map((file) => relative(ROOT, file))).toEqual([]);
  });

  test("every page becomes HTML with its formulas as MathML, without a script and with links to HTML", async () => {
    for (const file of pages.filter((path) => path.startsWith(DOCS))) {
      const html = (await htmlOf(textOf(file), relative(DOCS, file))) as string;
      expect(html, file).toMatch(/^<!doctype html>/);
      expect(html).not.toMatch(/<script|FORMULA-|\$\$|href="[^":]*\.md/);
    }
    expect(await htmlOf(textOf(join(DOCS, "reference", "metrics.md")), "reference/metrics.md")).toMatch(/<math[\s\S]*<\/math>/);
  });
});
