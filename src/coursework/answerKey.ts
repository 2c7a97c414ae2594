import type { AnswerKey } from "./Coursework.ts";
import { InputError } from "../errors.ts";
import { resolveMetricName } from "../catalogue/resolveMetricName.ts";
import { type MistakeFacts, mistakesOf, valueOf } from "./mistakesOf.ts";
import type { Leeway } from "./questionsOf.ts";

/** Share and distance of a question that has no leeway of its own. Common practice. */
const USUAL_SHARE = 0.02;

/**
 * The key of one question for one trial: the exact answer, the accepted distance and what usual mistakes give.
 *
 * A mistake whose value lies within twice the accepted distance of the answer is left out: it could not be told from it.
 *
 * @param leeway Metric id with accepted distance and share, or a metric id alone.
 * @param facts Exact answers and circumstances of the trial, SI units.
 * @returns The key, in the SI unit of the metric.
 * @throws {InputError} `not-available` where the trial has no exact answer to the question.
 */
export function answerKey(leeway: Leeway | string, facts: MistakeFacts): AnswerKey {
  const { metric, distance, share } = typeof leeway === "string" ? { metric: leeway, distance: 0, share: USUAL_SHARE } : leeway;
  const value = valueOf(metric, facts.truth);
  if (!Number.isFinite(value)) throw new InputError("not-available", `coursework requires a question with an exact answer, not ${metric}`);
  const tolerance = Math.max(distance, share * Math.abs(value));
  const mistakes = mistakesOf(metric, facts)
    .filter(([, wrong]) => Math.abs(wrong - value) > 2 * tolerance)
    .map(([id, wrong]) => ({ id, value: wrong }));
  return { metric, unit: resolveMetricName(metric).unit, value, tolerance, mistakes };
}
