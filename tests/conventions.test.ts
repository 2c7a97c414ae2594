import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename, join, relative } from "node:path";
import ts from "typescript";
import { describe, expect, test } from "vitest";
import { filesUnder } from "../scripts/docs.js";

const ROOT = join(import.meta.dirname, "..");
const sourceFiles = (...folders: readonly string[]): readonly string[] =>
  folders
    .filter((folder) => existsSync(join(ROOT, folder)))
    .flatMap((folder) => filesUnder(join(ROOT, folder)) as readonly string[])
    .filter((file) => /\.tsx?$/.test(file) && !file.endsWith(".d.ts"));

const parsed = new Map<string, ts.SourceFile>();
function parse(file: string): ts.SourceFile {
  let source = parsed.get(file);
  if (!source) {
    source = ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true, file.endsWith("x") ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
    parsed.set(file, source);
  }
  return source;
}

const named = (file: string): string => relative(ROOT, file).replaceAll("\\", "/");

interface PublicFunction {
  readonly name: string;
  readonly file: string;
  readonly node: ts.FunctionDeclaration;
}

function publicFunctions(file: string): readonly PublicFunction[] {
  return parse(file).statements.flatMap((statement) =>
    ts.isFunctionDeclaration(statement) && statement.name && statement.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)
      ? [{ name: statement.name.text, file, node: statement }]
      : [],
  );
}

/** Files whose name is that of the formula they hold, against those that gather tables and helpers of several. */
const formulaFiles = sourceFiles("src/metrics", "src/statistics").filter((file) => publicFunctions(file).length > 0);

/** Modules of several related exports, by design. */
const GATHERED: readonly string[] = ["src/statistics/distributions.ts", "src/statistics/meanDifference.ts", "src/statistics/moments.ts", "src/statistics/RepeatTable.ts"];

describe("formulas", () => {
  test.each(formulaFiles.filter((file) => !GATHERED.includes(named(file))).map((file) => [named(file), file] as const))("%s holds one public function of its own name", (_, file) => {
    expect(publicFunctions(file).map(({ name }) => name)).toContain(basename(file, ".ts"));
  });

  test("each has a docblock that says what it is, and the unit of every number in and out", () => {
    const faults: string[] = [];
    for (const { name, file, node } of formulaFiles.flatMap(publicFunctions).filter((entry) => entry.name === basename(entry.file, ".ts"))) {
      const where = `${named(file)} ${name}`;
      const [block] = ts.getJSDocCommentsAndTags(node).filter(ts.isJSDoc);
      if (!block) {
        faults.push(`${where}: no docblock`);
        continue;
      }
      const tags = ts.getJSDocTags(node);
      const textOf = (tag: ts.JSDocTag): string => ts.getTextOfJSDocComment(tag.comment) ?? "";
      for (const parameter of node.parameters.filter((entry) => ts.isIdentifier(entry.name))) {
        const parameterName = (parameter.name as ts.Identifier).text;
        const tag = tags.find((entry) => ts.isJSDocParameterTag(entry) && (entry.name as ts.Identifier).text === parameterName);
        if (!tag) faults.push(`${where}: no @param ${parameterName}`);
        else if (isNumber(parameter.type) && !UNIT.test(textOf(tag))) faults.push(`${where}: @param ${parameterName} says no unit: ${textOf(tag)}`);
      }
      const returns = tags.find((entry) => entry.tagName.text === "returns");
      if (!returns) faults.push(`${where}: no @returns`);
      else if (isNumber(node.type) && !UNIT.test(textOf(returns))) faults.push(`${where}: @returns says no unit: ${textOf(returns)}`);
    }
    expect(faults).toEqual([]);
  });
});

/** A unit in words of this project, or the statement that there is none. */
const UNIT =
  /(?<![\p{L}/])(m|s|ms|cm|N|Hz|kg|W|%|rad|degrees?|percent(age)?|m\/s(\^2|²)?|N\/m|N\/s|N s|W\/kg|N\/kg|J|standard deviations?|frames?( per second|\/s)?|no unit|(same|any|its|their|one|the) units?|unit of|units? (as|of)|in the units?)(?![\p{L}/])/u;

function isNumber(type: ts.TypeNode | undefined): boolean {
  if (!type) return false;
  if (type.kind === ts.SyntaxKind.NumberKeyword) return true;
  const text = type.getText();
  return /^(readonly number\[\]|number\[\]|Float64Array|ArrayLike<number>)$/.test(text);
}

describe("errors", () => {
  const thrown = sourceFiles("src", "functions", "command", "taskpane").flatMap((file) => {
    const found: { readonly where: string; readonly text: string }[] = [];
    const visit = (node: ts.Node): void => {
      if (ts.isNewExpression(node) && node.expression.getText() === "InputError" && node.arguments && node.arguments.length > 1) {
        for (const text of messagesOf(node.arguments[1]!)) {
          const { line } = parse(file).getLineAndCharacterOfPosition(node.getStart());
          found.push({ where: `${named(file)}:${line + 1}`, text });
        }
      }
      ts.forEachChild(node, visit);
    };
    visit(parse(file));
    return found;
  });

  test("are found by this check", () => {
    expect(thrown.length).toBeGreaterThan(50);
  });

  test("say what requires what, in one sentence without a full stop", () => {
    // A text that begins with another one ("…") adds to a message that is checked where it is made.
    expect(thrown.filter(({ text }) => !text.startsWith("…")).filter(({ text }) => !/ requires? /.test(text) || /\.$/.test(text)).map(({ where, text }) => `${where} ${text}`)).toEqual([]);
  });
});

/** The texts that an expression can give, with `…` for what is filled in; none where it is made elsewhere. */
function messagesOf(node: ts.Expression): readonly string[] {
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isTemplateExpression(node)) return [node.head.text + node.templateSpans.map((span) => `…${span.literal.text}`).join("")];
  if (ts.isConditionalExpression(node)) return [...messagesOf(node.whenTrue), ...messagesOf(node.whenFalse)];
  if (ts.isParenthesizedExpression(node)) return messagesOf(node.expression);
  if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken) {
    const join = (side: ts.Expression): string => messagesOf(side)[0] ?? "…";
    return [join(node.left) + join(node.right)];
  }
  return [];
}

describe("tests", () => {
  const testFiles = sourceFiles("tests").filter((file) => /\.test\.tsx?$/.test(file));

  test("of a source file mirror its path, or name the behaviour of a room that exists", () => {
    const astray = testFiles
      .map(named)
      .filter((file) => /^tests\/(src|functions|command|taskpane)\//.test(file))
      .filter((file) => {
        const mirrored = file.replace(/^tests\//, "").replace(/\.test\.tsx?$/, "");
        const folder = mirrored.slice(0, mirrored.lastIndexOf("/"));
        return ![".ts", ".tsx", ".js"].some((ending) => existsSync(join(ROOT, mirrored + ending))) && !existsSync(join(ROOT, folder));
      });
    expect(astray).toEqual([]);
  });

  test("of every formula exist", () => {
    const untested = formulaFiles.map(named).filter((file) => !GATHERED.includes(file) && !existsSync(join(ROOT, `tests/${file.replace(/\.ts$/, ".test.ts")}`)));
    expect(untested).toEqual([]);
  });

  test("have titles that say the behaviour", () => {
    const empty: string[] = [];
    for (const file of testFiles) {
      for (const [, title] of readFileSync(file, "utf8").matchAll(/\b(?:test|it)(?:\.\w+)*\(\s*"([^"]+)"/g)) {
        if (/^(works|should |test\b)|\bworks$/i.test(title!)) empty.push(`${named(file)}: ${title}`);
      }
    }
    expect(empty).toEqual([]);
  });
});

describe("what is said", () => {
  test("claims nothing about injuries, and diagnoses nobody", () => {
    const said = [...sourceFiles("src", "functions", "command", "taskpane"), ...(filesUnder(join(ROOT, "docs")) as readonly string[]).filter((file) => file.endsWith(".md")), join(ROOT, "README.md")];
    const claims = said.flatMap((file) =>
      [...readFileSync(file, "utf8").matchAll(/injury risk|risk of injur|prevents? injur|predicts? injur|(?<!not |no |nobody )\bdiagnoses?\b(?! nobody)/gi)].map(([claim]) => `${named(file)}: ${claim}`),
    );
    expect(claims).toEqual([]);
  });
});

describe("the developers' page", () => {
  const text = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8") + readFileSync(join(ROOT, "README.md"), "utf8");
  const { scripts } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as { scripts: Readonly<Record<string, string>> };

  test("names only commands that exist", () => {
    const mentioned = [...text.matchAll(/\bnpm (?:run )?([a-z:]+)/g)].map((match) => match[1]!);
    expect(mentioned.length).toBeGreaterThan(5);
    expect(mentioned.filter((name) => !(name in scripts))).toEqual([]);
  });

  test("names every command there is", () => {
    expect(Object.keys(scripts).filter((name) => !text.includes(`npm run ${name}`) && !text.includes(`npm ${name}`))).toEqual([]);
  });

  test("names only files and rooms that exist", () => {
    const paths = [...text.matchAll(/`((?:src|functions|taskpane|command|tests|docs|scripts)(?:\/[\w./-]+)?)`/g)].map((match) => match[1]!);
    expect(paths.length).toBeGreaterThan(10);
    expect([...new Set(paths)].filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });

  test("names every room of the sources", () => {
    const rooms = readdirSync(join(ROOT, "src"), { withFileTypes: true }).filter((entry) => entry.isDirectory() && sourceFiles(`src/${entry.name}`).length > 0);
    expect(rooms.filter(({ name }) => !text.includes(`\`src/${name}\``)).map(({ name }) => name)).toEqual([]);
  });
});
