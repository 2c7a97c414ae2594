import type { Step } from "../../src/protocols/Analysis.ts";

/** A piece of a formula's text. */
interface Token {
  readonly text: string;
  readonly kind: "operand" | "word" | "operator" | "open" | "close";
}

const FUNCTIONS: ReadonlySet<string> = new Set(["sqrt"]);

/**
 * A step's formula with its numbers in place of the symbols: `v_TO^2 / (2 g)` gives `2.60^2 / (2 · 9.81)`.
 *
 * @param step Step as recorded.
 * @param print How a number is written.
 * @returns `undefined` where the formula says in words what was done with the samples, or a symbol has no number.
 */
export function stepWithNumbers(step: Step, print: (value: number, unit: string) => string): string | undefined {
  if (step.inputs.length === 0) return undefined;
  const values = new Map(step.inputs.map((input) => [input.symbol, input] as const));
  const tokens = tokensOf(step.formula, [...values.keys()]);
  if (tokens === undefined) return undefined;
  let text = "";
  let before: Token | undefined;
  let bars = 0;
  for (const token of tokens) {
    if (token.text === "|") bars++;
    const opens = token.kind === "operand" || token.kind === "word" || token.kind === "open" || (token.text === "|" && bars % 2 === 1);
    const closed = before !== undefined && (before.kind === "operand" || before.kind === "close" || (before.text === "|" && (token.text === "|" ? bars - 1 : bars) % 2 === 0));
    const joined = closed && opens;
    const input = values.get(token.text);
    const number = input === undefined ? token.text : print(input.value, input.unit);
    const shown = input !== undefined && input.value < 0 ? `(${number})` : number;
    const spaced = token.kind === "operator" && token.text !== "^" && token.text !== "|";
    // A minus at the beginning or after an opening bracket belongs to its number.
    const sign = spaced && (before === undefined || before.kind === "open" || before.kind === "operator");
    text += joined ? ` \u00b7 ${shown}` : spaced && !sign ? ` ${shown} ` : shown;
    before = token;
  }
  return text.replaceAll("-", "\u2212");
}

function tokensOf(formula: string, symbols: readonly string[]): readonly Token[] | undefined {
  const longestFirst = [...symbols].sort((a, b) => b.length - a.length);
  const tokens: Token[] = [];
  let rest = formula;
  while (rest !== "") {
    const space = /^\s+/.exec(rest)?.[0];
    if (space !== undefined) {
      rest = rest.slice(space.length);
      continue;
    }
    const symbol = longestFirst.find((candidate) => rest.startsWith(candidate) && !/^[A-Za-z0-9_]/.test(rest.slice(candidate.length)));
    const number = /^\d+(?:\.\d+)?/.exec(rest)?.[0];
    const word = /^[A-Za-z]+/.exec(rest)?.[0];
    if (symbol !== undefined) tokens.push({ text: symbol, kind: "operand" });
    else if (number !== undefined) tokens.push({ text: number, kind: "operand" });
    else if (word !== undefined && FUNCTIONS.has(word)) tokens.push({ text: word, kind: "word" });
    else if (rest.startsWith("(")) tokens.push({ text: "(", kind: "open" });
    else if (rest.startsWith(")")) tokens.push({ text: ")", kind: "close" });
    else if (/^[-+*/^|]/.test(rest)) tokens.push({ text: rest[0], kind: "operator" });
    else return undefined;
    rest = rest.slice(tokens[tokens.length - 1].text.length);
  }
  return tokens;
}
