import { readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import ts from "typescript";
import { ROOT } from "../../scripts/sources.js";

/** One use of a member that is above the declared floor. */
export interface AboveFloor {
  readonly file: string;
  readonly line: number;
  readonly member: string;
  readonly needs: string;
}

const IS_OFFICE = /[\\/]@types[\\/]office-js[\\/]/;
const REMARK = /\[Api set:\s*(\w+)\s*([\d.]+)/;
const COMMON_REMARK = /\*\*Requirement set\*\*:\s*(?:\{@link[^|}]*\|\s*|\[)?\s*(\w+)\s+([\d.]+)/;

/** Requirement sets of the manifest: the floor that every host we load in has. */
export function floorOfManifest(): ReadonlyMap<string, string> {
  const text = readFileSync(join(ROOT, "manifest.xml"), "utf8");
  return new Map([...text.matchAll(/<Set Name="(\w+)" MinVersion="([\d.]+)"/g)].map((match) => [match[1], match[2]]));
}

/**
 * Members of Office.js that some sources use and that the floor does not have, read from the remarks
 * in its type declarations. A use inside `if (… isSetSupported("Set", "version") …)` is guarded.
 *
 * @param sources Further sources by (invented) path in the project, for tests of this check.
 * @param only Whether to look at the further sources alone.
 */
export function membersAboveFloor(floor: ReadonlyMap<string, string>, sources: Readonly<Record<string, string>> = {}, only = false): { readonly found: readonly AboveFloor[]; readonly looked: number } {
  const config = join(ROOT, "taskpane", "tsconfig.json");
  const { options, fileNames } = ts.parseJsonConfigFileContent(ts.readConfigFile(config, ts.sys.readFile).config, ts.sys, dirname(config));
  const virtual = new Map(Object.entries(sources).map(([path, text]) => [join(ROOT, path), text]));
  const functions = ts.sys.readDirectory(join(ROOT, "functions"), [".ts"]);
  const roots = only ? [...virtual.keys()] : [...new Set([...fileNames, ...functions, ...virtual.keys()])];
  const compilerOptions = { ...options, types: ["office-js", "custom-functions-runtime"], typeRoots: [join(ROOT, "node_modules", "@types")] };
  const host = ts.createCompilerHost(compilerOptions);
  const { readFile, fileExists, getSourceFile } = host;
  host.readFile = (path) => virtual.get(path) ?? readFile(path);
  host.fileExists = (path) => virtual.has(path) || fileExists(path);
  host.getSourceFile = (path, ...rest) => (virtual.has(path) ? ts.createSourceFile(path, virtual.get(path)!, rest[0], true) : getSourceFile(path, ...rest));
  const program = ts.createProgram(roots, compilerOptions, host);
  const checker = program.getTypeChecker();
  const found: AboveFloor[] = [];
  let looked = 0;

  for (const file of program.getSourceFiles()) {
    if (file.isDeclarationFile || !roots.includes(file.fileName)) continue;
    const visit = (node: ts.Node): void => {
      if (ts.isIdentifier(node)) report(file, node, checker.getSymbolAtLocation(node));
      if (ts.isBindingElement(node)) {
        const name = node.propertyName ?? node.name;
        if (ts.isIdentifier(name)) report(file, node, checker.getTypeAtLocation(node.parent).getProperty(name.text));
      }
      if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression) && node.expression.name.text === "load") {
        const receiver = checker.getTypeAtLocation(node.expression.expression);
        for (const argument of node.arguments) loaded(file, receiver, argument);
      }
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return { found, looked };

  function report(file: ts.SourceFile, node: ts.Node, symbol: ts.Symbol | undefined): void {
    if (symbol === undefined) return;
    const real = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
    const needed = requirementOf(real);
    if (needed === undefined) return;
    looked++;
    const [set, version] = needed;
    const have = floor.get(set);
    if (have !== undefined && compare(version, have) <= 0) return;
    if (guarded(node, set, version)) return;
    const { line } = file.getLineAndCharacterOfPosition(node.getStart(file));
    found.push({ file: relative(ROOT, file.fileName), line: line + 1, member: real.name, needs: `${set} ${version}` });
  }

  /** Names in `load("a, b/c")`, `load(["a", "b"])` and `load({ a: true, b: { c: true } })`. */
  function loaded(file: ts.SourceFile, receiver: ts.Type, argument: ts.Expression): void {
    if (ts.isStringLiteralLike(argument)) {
      for (const path of argument.text.split(",")) {
        let type: ts.Type | undefined = receiver;
        for (const name of path.trim().split("/")) {
          const property: ts.Symbol | undefined = type && propertyOf(type, name);
          report(file, argument, property);
          type = property && checker.getTypeOfSymbolAtLocation(property, argument);
        }
      }
    } else if (ts.isArrayLiteralExpression(argument)) {
      for (const element of argument.elements) loaded(file, receiver, element);
    } else if (ts.isObjectLiteralExpression(argument)) {
      for (const entry of argument.properties) {
        if (!ts.isPropertyAssignment(entry) || !(ts.isIdentifier(entry.name) || ts.isStringLiteral(entry.name))) continue;
        const { text } = entry.name;
        if (text === "select" || text === "expand") {
          loaded(file, receiver, entry.initializer);
          continue;
        }
        const property = propertyOf(receiver, text);
        report(file, entry.name, property);
        if (property !== undefined) loaded(file, checker.getTypeOfSymbolAtLocation(property, entry), entry.initializer);
      }
    }
  }

  /** A property of an object, or of the items of a collection. */
  function propertyOf(type: ts.Type, name: string): ts.Symbol | undefined {
    const direct = checker.getPropertyOfType(type, name);
    if (direct !== undefined) return direct;
    const items = checker.getPropertyOfType(type, "items");
    const element = items?.valueDeclaration && checker.getIndexTypeOfType(checker.getTypeOfSymbolAtLocation(items, items.valueDeclaration), ts.IndexKind.Number);
    return element && checker.getPropertyOfType(element, name);
  }
}

/** The requirement set in the remarks of a member of Office.js, or of the nearest thing around it that has one. */
function requirementOf(symbol: ts.Symbol): readonly [set: string, version: string] | undefined {
  for (const declaration of symbol.declarations ?? []) {
    if (!IS_OFFICE.test(declaration.getSourceFile().fileName)) continue;
    for (let node: ts.Node = declaration; node !== undefined && !ts.isSourceFile(node); node = node.parent) {
      const { text } = node.getSourceFile();
      const comment = text.slice(node.getFullStart(), node.getStart());
      // The nearest comment before a declaration is its own.
      const own = comment.slice(comment.lastIndexOf("/**"));
      const match = REMARK.exec(own) ?? COMMON_REMARK.exec(own);
      if (match !== null) return [match[1], match[2]];
      if (ts.isModuleDeclaration(node)) break;
    }
  }
  return undefined;
}

function guarded(node: ts.Node, set: string, version: string): boolean {
  for (let child = node; child.parent !== undefined; child = child.parent) {
    const { parent } = child;
    const condition =
      ts.isIfStatement(parent) && parent.thenStatement === child
        ? parent.expression
        : ts.isConditionalExpression(parent) && parent.whenTrue === child
          ? parent.condition
          : ts.isBinaryExpression(parent) && parent.operatorToken.kind === ts.SyntaxKind.AmpersandAmpersandToken && parent.right === child
            ? parent.left
            : undefined;
    if (condition === undefined) continue;
    for (const match of condition.getText().matchAll(/isSetSupported\(\s*"(\w+)"\s*,\s*"([\d.]+)"\s*\)/g)) {
      if (match[1] === set && compare(match[2], version) >= 0) return true;
    }
  }
  return false;
}

function compare(a: string, b: string): number {
  const [x, y] = [a.split(".").map(Number), b.split(".").map(Number)];
  for (let i = 0; i < Math.max(x.length, y.length); i++) {
    const difference = (x[i] ?? 0) - (y[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}
