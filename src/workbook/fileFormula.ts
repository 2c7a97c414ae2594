import { mergeRefTokens, parse, parseStructRef, stringifyStructRef, tokenize } from "@borgar/fx";
import { functionNameInFile, functionNameShown, givesArray } from "./futureFunctions.ts";

/** Cell functions by name without prefix, in capitals; the value says whether a function may give several cells. */
export type FunctionTable = ReadonlyMap<string, boolean>;

const NAMESPACE = "LEAP.";
const CUSTOM = "_xldudf_LEAP_";
const PARAMETER = "_xlpm.";

/**
 * The text of a formula as an .xlsx file holds it: without `=`, cell functions as `_xldudf_LEAP_NAME`, functions younger than
 * the format and names of LET and LAMBDA with their prefixes. Text in quotes is never touched.
 *
 * @param formula Text with its `=`.
 * @param functions The cell functions that exist; a name that is none of them stays as it is.
 * @returns Text for the file, no unit.
 * @see [MS-XLSX] section 2.2.2, formulas.
 */
export function formulaInFile(formula: string, functions: FunctionTable): string {
  const plain = operatorsInWords(formula);
  const scopes = localNames(plain);
  return rewrite(plain, (type, value, start) => {
    if (type === "func") {
      const own = value.slice(NAMESPACE.length).toUpperCase();
      if (value.toUpperCase().startsWith(NAMESPACE) && functions.has(own)) return CUSTOM + own;
      return functionNameInFile(value);
    }
    if (type === "range_named" && scopes.some((scope) => scope.names.has(value.toLowerCase()) && start >= scope.start && start < scope.end)) return PARAMETER + value;
    return type === "structured" ? thisRowInWords(value) : value;
  }).slice(1);
}

/**
 * The text of a formula of an .xlsx file as a spreadsheet shows it.
 *
 * @param text Text of the file, without `=`.
 * @param functions The cell functions that exist.
 * @returns Text with its `=`, no unit.
 */
export function formulaShown(text: string, functions: FunctionTable): string {
  const shown = rewrite(`=${text}`, (type, value) => {
    if (type === "func") {
      const own = value.slice(CUSTOM.length).toUpperCase();
      if (value.toUpperCase().startsWith(CUSTOM.toUpperCase()) && functions.has(own)) return NAMESPACE + own;
      return functionNameShown(value);
    }
    return type === "range_named" && value.toLowerCase().startsWith(PARAMETER) ? value.slice(PARAMETER.length) : value;
  });
  return operatorsShown(shown);
}

/**
 * Whether a file can hold a formula: it can be parsed, is not too long, and reads no other workbook. A file with any other
 * would be called damaged by the spreadsheet that opens it.
 *
 * @param formula Text with its `=`.
 */
export function fitsFile(formula: string): boolean {
  if (formula.length > LONGEST_FORMULA || !treeOf(formula)) return false;
  return tokensOf(formula).every(({ type, value }) => !type.startsWith("range") || !/^'?[^'!]*\[/.test(value));
}

/** What spreadsheets allow (limits of Excel). */
const LONGEST_FORMULA = 8192;

/**
 * Whether a formula must be written as one that takes and gives arrays: otherwise a spreadsheet would cut ranges down to one cell.
 *
 * A cell function takes its ranges whole in either case, so a call by itself does not need it unless it fills several cells.
 *
 * @param formula Text with its `=`.
 * @param functions The cell functions that exist, and which may give several cells.
 */
export function usesArrays(formula: string, functions: FunctionTable): boolean {
  const tree = treeOf(formula);
  if (!tree) return false;
  let found = !isOwnCall(tree) && mayBeArray(tree, functions);
  visit(tree, (node) => {
    if (node.type === "BinaryExpression" || node.type === "UnaryExpression") found ||= !REFERENCE_OPERATORS.has(node.operator!) && mayBeArray(node, functions);
    else if (node.type === "CallExpression") found ||= givesArray(node.callee?.name ?? "") || takesArraysApart(node);
  });
  return found;
}

interface SyntaxNode {
  readonly type: string;
  readonly loc?: readonly [number, number];
  readonly kind?: string;
  readonly value?: unknown;
  readonly operator?: string;
  readonly callee?: SyntaxNode & { readonly name?: string };
  readonly arguments?: readonly (SyntaxNode | null)[];
  readonly declarations?: readonly { readonly id: { readonly name: string }; readonly init: SyntaxNode }[];
  readonly params?: readonly { readonly name: string }[];
  readonly body?: SyntaxNode;
}

function treeOf(formula: string): SyntaxNode | undefined {
  try {
    return parse(mergeRefTokens(tokenize(formula, { withLocation: true }))) as unknown as SyntaxNode;
  } catch {
    return undefined;
  }
}

function visit(node: SyntaxNode, see: (node: SyntaxNode) => void): void {
  see(node);
  const children = [node.callee, ...(node.arguments ?? []), ...(node.declarations ?? []).map((each) => each.init), node.body];
  for (const child of children) if (child) visit(child, see);
}

/** Every token once, with its type and first character; the pieces put together again. */
function rewrite(formula: string, change: (type: string, value: string, start: number) => string): string {
  const tokens = tokensOf(formula);
  return tokens.length === 0 ? formula : tokens.map((token) => change(token.type, token.value, token.loc?.[0] ?? 0)).join("");
}

/** None where the text cannot be cut into tokens. */
function tokensOf(formula: string) {
  try {
    return mergeRefTokens(tokenize(formula, { withLocation: true }));
  } catch {
    return [];
  }
}

/** Names that LET and LAMBDA introduce, and where in the text they hold. */
function localNames(formula: string): { names: Set<string>; start: number; end: number }[] {
  const tree = treeOf(formula);
  const scopes: { names: Set<string>; start: number; end: number }[] = [];
  if (tree) {
    visit(tree, (node) => {
      const names = [...(node.declarations ?? []).map((each) => each.id.name), ...(node.params ?? []).map((each) => each.name)];
      if (names.length > 0 && node.loc) scopes.push({ names: new Set(names.map((name) => name.toLowerCase())), start: node.loc[0], end: node.loc[1] });
    });
  }
  return scopes;
}

/** `Trials[@x]` is written `Trials[[#This Row],[x]]` in files, and everywhere else understood so too. */
function thisRowInWords(reference: string): string {
  if (!reference.includes("@")) return reference;
  const parsed = parseStructRef(reference);
  return parsed ? stringifyStructRef(parsed, { thisRow: true }) : reference;
}

/** `_xlfn.ANCHORARRAY(A1)` is shown as `A1#`, `_xlfn.SINGLE(x)` as `@x`. */
function operatorsShown(formula: string): string {
  if (!/ANCHORARRAY|SINGLE/i.test(formula)) return formula;
  return withReferences(formula, ({ type, callee }, inner) => {
    const name = type === "CallExpression" ? callee?.name?.toUpperCase() : undefined;
    return name === "ANCHORARRAY" ? `${inner}#` : name === "SINGLE" ? `@${inner}` : undefined;
  });
}

/** The other way: what a spreadsheet shows as an operator, a file writes as a function. */
function operatorsInWords(formula: string): string {
  if (!/[#@]/.test(formula)) return formula;
  return withReferences(formula, ({ type, operator }, inner) => {
    if (type !== "UnaryExpression") return undefined;
    return operator === "#" ? `_xlfn.ANCHORARRAY(${inner})` : operator === "@" ? `_xlfn.SINGLE(${inner})` : undefined;
  });
}

/** Replaces parts of a formula that hold one reference and nothing else; one inside the other is left as it is. */
function withReferences(formula: string, replace: (node: SyntaxNode, inner: string) => string | undefined): string {
  const tree = treeOf(formula);
  if (!tree) return formula;
  const edits: { start: number; end: number; text: string }[] = [];
  visit(tree, (node) => {
    const [argument, ...more] = node.arguments ?? [];
    if (!node.loc || !argument?.loc || more.length > 0 || argument.type !== "ReferenceIdentifier") return;
    const text = replace(node, formula.slice(argument.loc[0], argument.loc[1]));
    // The parser says of an operator behind its reference only where the operator stands.
    if (text !== undefined) edits.push({ start: Math.min(node.loc[0], argument.loc[0]), end: Math.max(node.loc[1], argument.loc[1]), text });
  });
  edits.sort((a, b) => b.start - a.start);
  return edits.reduce((text, edit) => text.slice(0, edit.start) + edit.text + text.slice(edit.end), formula);
}

function isOwnCall(node: SyntaxNode): boolean {
  return node.type === "CallExpression" && (node.callee?.name ?? "").toUpperCase().startsWith(NAMESPACE);
}

const REFERENCE_OPERATORS = new Set([":", " ", ",", "@", "#"]);

function mayBeArray(node: SyntaxNode, functions: FunctionTable): boolean {
  switch (node.type) {
    case "ArrayExpression":
      return true;
    case "ReferenceIdentifier": {
      const text = String(node.value);
      if (node.kind === "table") return !/#This Row|@/i.test(text);
      return node.kind === "name" || text.includes(":") || text.endsWith("#");
    }
    case "UnaryExpression":
      return node.operator !== "@" && children(node).some((child) => mayBeArray(child, functions));
    case "BinaryExpression":
      return children(node).some((child) => mayBeArray(child, functions));
    case "CallExpression": {
      const name = (node.callee?.name ?? "").toUpperCase();
      if (name.startsWith(NAMESPACE)) return functions.get(name.slice(NAMESPACE.length)) ?? false;
      // IF and its like give arrays where they are given some; the others make one value of a range.
      return givesArray(name) || takesArraysApart(node);
    }
    case "LetExpression":
      return node.body !== undefined && mayBeArray(node.body, functions);
    case "LambdaExpression":
      return true;
    default:
      return false;
  }
}

/** Functions of single values: given a range they work cell by cell. */
const CELL_BY_CELL = new Set(
  ("ABS CEILING DATE DAY EXACT EXP FLOOR IF IFERROR IFNA IFS INT ISBLANK ISERROR ISNA ISNUMBER ISTEXT LEFT LEN LN LOG LOG10 LOWER MID MOD MONTH N NOT " +
    "POWER RIGHT ROUND ROUNDDOWN ROUNDUP SIGN SQRT SUBSTITUTE SWITCH T TEXT TRIM TRUNC UPPER VALUE YEAR").split(" "),
);

function takesArraysApart(node: SyntaxNode): boolean {
  return CELL_BY_CELL.has((node.callee?.name ?? "").toUpperCase()) && children(node).some((child) => mayBeArray(child, NONE));
}

const NONE: FunctionTable = new Map();

const children = (node: SyntaxNode): SyntaxNode[] => (node.arguments ?? []).filter((each): each is SyntaxNode => each !== null);
