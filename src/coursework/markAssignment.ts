import type { AnswerKey, Mark, RecordingMark, StudentKey } from "./Coursework.ts";
import { resolveMetricName } from "../catalogue/resolveMetricName.ts";
import { InputError } from "../errors.ts";
import { markAnswer } from "./markAnswer.ts";

/** One answer cell as it came back. */
export interface GivenAnswer {
  /** Metric as it stands beside the answer, in any form `LEAP.METRIC` takes. */
  readonly metric: string;
  /** Value of the cell, in the unit of the question. */
  readonly value: unknown;
  /** Formula of the cell, where it has one. */
  readonly formula?: string;
}

export interface MarkedAnswer {
  readonly key: AnswerKey;
  /** Value of the cell; absent where the row is gone. */
  readonly given?: unknown;
  readonly mark: Mark;
}

export interface MarkedAssignment {
  readonly student: string;
  readonly answers: readonly MarkedAnswer[];
  readonly right: number;
  /** Whether the recording that came back is the one handed out; absent where it was not looked at. */
  readonly recording?: RecordingMark;
}

/**
 * Marks all answers of one student against the key.
 *
 * Answers are matched by metric, wherever their rows went; a question whose row is gone counts as blank. Rows that are not asked for are
 * passed over.
 *
 * @param given Answer cells that came back.
 * @param key The teacher's key for this student.
 * @returns One mark a question, in the order of the key, and how many are right.
 * @throws {InputError} `wrong-shape` where one question is answered twice.
 */
export function markAssignment(given: readonly GivenAnswer[], key: StudentKey): MarkedAssignment {
  const byMetric = new Map<string, GivenAnswer>();
  for (const answer of given) {
    const id = idOf(answer.metric);
    if (id === undefined) continue;
    if (byMetric.has(id)) throw new InputError("wrong-shape", `marking requires one answer to each question; ${answer.metric} stands twice`, key.student);
    byMetric.set(id, answer);
  }
  const answers = key.answers.map((question): MarkedAnswer => {
    const answer = byMetric.get(idOf(question.metric) ?? question.metric);
    const mark = markAnswer(answer?.value, question, answer?.formula);
    return answer === undefined ? { key: question, mark } : { key: question, given: answer.value, mark };
  });
  return { student: key.student, answers, right: answers.filter(({ mark }) => mark.outcome === "right").length };
}

function idOf(metric: string): string | undefined {
  try {
    return resolveMetricName(metric).id;
  } catch {
    return undefined;
  }
}
