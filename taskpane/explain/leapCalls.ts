import { isCallNode, isReferenceNode, mergeRefTokens, parse, tokenize } from "@borgar/fx";

/** One call of a LEAP function in the text of a formula. */
export interface LeapCall {
  /** Place among the LEAP calls of the formula, outermost and leftmost first, from zero. */
  readonly index: number;
  /** Name without the prefix, in capitals, for instance `METRIC`. */
  readonly name: string;
  /** Half-open span of characters in the formula text. */
  readonly start: number;
  readonly end: number;
  /** How many LEAP calls enclose this one. */
  readonly depth: number;
  /** The text of each argument as it stands; `""` where it was left out. */
  readonly args: readonly string[];
}

/** A stretch of formula text, inside or outside a LEAP call. */
export interface FormulaPart {
  readonly text: string;
  /** Index of the innermost LEAP call the text belongs to; absent outside all of them. */
  readonly call?: number;
}

interface SyntaxNode {
  readonly type: string;
  readonly loc?: readonly number[];
  readonly callee?: { readonly name?: string };
  readonly arguments?: readonly (SyntaxNode | null)[];
}

const PREFIX = /^(?:_xldudf_LEAP_|LEAP\.)/i;

/**
 * The LEAP calls in the text of a formula, nested ones included, in the order of their first character.
 *
 * @param formula Text of a cell's formula, beginning with `=`; English names, comma separators.
 * @returns No calls for text that is no formula or cannot be parsed.
 */
export function leapCalls(formula: string): readonly LeapCall[] {
  if (!formula.startsWith("=")) return [];
  let root: SyntaxNode;
  try {
    root = parse(mergeRefTokens(tokenize(formula, { withLocation: true }))) as unknown as SyntaxNode;
  } catch {
    return [];
  }
  const calls: LeapCall[] = [];
  collect(root, 0, formula, calls);
  return calls;
}

/**
 * Cuts the text of a formula so that every piece belongs to one innermost LEAP call, or to none.
 *
 * @param formula Text of the formula.
 * @param calls What `leapCalls` gave for it.
 */
export function formulaParts(formula: string, calls: readonly LeapCall[]): readonly FormulaPart[] {
  const cuts = new Set<number>([0, formula.length]);
  for (const call of calls) {
    cuts.add(call.start);
    cuts.add(call.end);
  }
  const places = [...cuts].sort((a, b) => a - b);
  const parts: FormulaPart[] = [];
  for (let i = 0; i + 1 < places.length; i++) {
    const start = places[i];
    const end = places[i + 1];
    // The innermost of nested calls is the one that begins last.
    let call: number | undefined;
    for (const candidate of calls) if (candidate.start <= start && end <= candidate.end) call = candidate.index;
    parts.push({ text: formula.slice(start, end), call });
  }
  return parts;
}

/** The references in a formula that look like cells or ranges, in order; names and table columns excluded. */
export function cellReferences(text: string): readonly string[] {
  try {
    const found: string[] = [];
    const visit = (node: SyntaxNode): void => {
      if (isReferenceNode(node as never)) found.push((node as unknown as { value: string }).value);
      for (const child of node.arguments ?? []) if (child !== null) visit(child);
    };
    visit(parse(mergeRefTokens(tokenize(text.startsWith("=") ? text : `=${text}`, { withLocation: true }))) as unknown as SyntaxNode);
    return found.filter((value) => /\d/.test(value) && !value.includes("[["));
  } catch {
    return [];
  }
}

function collect(node: SyntaxNode, depth: number, formula: string, calls: LeapCall[]): void {
  let inner = depth;
  if (isCallNode(node as never) && node.callee?.name !== undefined && PREFIX.test(node.callee.name) && node.loc !== undefined) {
    calls.push({
      index: calls.length,
      name: node.callee.name.replace(PREFIX, "").toUpperCase(),
      start: node.loc[0],
      end: node.loc[1],
      depth,
      args: (node.arguments ?? []).map((argument) => (argument?.loc === undefined ? "" : formula.slice(argument.loc[0], argument.loc[1]))),
    });
    inner++;
  }
  for (const child of node.arguments ?? []) if (child !== null) collect(child, inner, formula, calls);
}
