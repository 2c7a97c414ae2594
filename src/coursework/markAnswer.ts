import type { AnswerKey, Mark } from "./Coursework.ts";
import { courseworkSentence } from "../wording/courseworkSentence.ts";

/**
 * Marks one answer: right within the tolerance, a usual mistake that gives this very number, or wrong.
 *
 * The nearest mistake is named. One is recognised within the tolerance in proportion to its own size, so that a number 100 times too large may be 100 times
 * farther off. Text that reads as a number counts as one, with a decimal point or comma.
 *
 * @param answer Value of the answer cell, in the unit of the question.
 * @param key Exact answer, tolerance and mistakes, in the same unit.
 * @param formula Formula of the answer cell, where it has one.
 * @returns Outcome, the recognised mistake, whether the cell is a formula of this add-in, and a sentence.
 */
export function markAnswer(answer: unknown, key: AnswerKey, formula = ""): Mark {
  const byFunction = /(^|[^A-Za-z0-9])LEAP[._]/i.test(formula);
  const given = numberFrom(answer);
  const mark = (outcome: Mark["outcome"], mistake?: string): Mark => ({
    outcome,
    ...(mistake === undefined ? {} : { mistake }),
    byFunction,
    message: courseworkSentence(mistake ?? outcome, byFunction),
  });
  if (given === undefined) return mark(isBlank(answer) ? "blank" : "not a number");
  if (Math.abs(given - key.value) <= key.tolerance) return mark("right");
  let found: { id: string } | undefined;
  let least = 1 + 1e-5;
  for (const { id, value } of key.mistakes) {
    const size = key.value === 0 ? 1 : Math.abs(value / key.value);
    const distance = Math.abs(given - value) / (key.tolerance * size);
    // Of two that give one number the first is the more telling.
    if (distance < least - 1e-6) {
      found = { id };
      least = distance;
    }
  }
  return found === undefined ? mark("wrong") : mark("mistake", found.id);
}

function isBlank(answer: unknown): boolean {
  return answer === null || answer === undefined || (typeof answer === "string" && answer.trim() === "");
}

function numberFrom(answer: unknown): number | undefined {
  if (typeof answer === "number") return Number.isFinite(answer) ? answer : undefined;
  if (typeof answer !== "string") return undefined;
  const text = answer.trim().replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : undefined;
}
