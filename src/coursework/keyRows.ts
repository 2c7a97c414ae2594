import type { AnswerKey, StudentKey } from "./Coursework.ts";
import { InputError } from "../errors.ts";

/** Head of the key sheet, in the order of its columns. */
export const KEY_HEAD = ["student", "seed", "metric", "unit", "value", "tolerance", "mistakes", "recording"] as const;

/**
 * The keys of a coursework as rows of a sheet: one row a question, under `KEY_HEAD`.
 *
 * @param keys Keys, values and tolerances in the unit of each question.
 * @returns Rows of text and numbers; mistakes as `id=value; id=value`; the hash of the recording last.
 */
export function keyRows(keys: readonly StudentKey[]): (string | number)[][] {
  return keys.flatMap(({ student, seed, recording, answers }) =>
    answers.map(({ metric, unit, value, tolerance, mistakes }) => [student, seed, metric, unit, value, tolerance, mistakes.map((mistake) => `${mistake.id}=${mistake.value}`).join("; "), recording ?? ""]),
  );
}

/**
 * Keys from the rows of a sheet that `keyRows` wrote.
 *
 * @param rows Cell values without the head; blank rows are passed over.
 * @returns Keys in the order of their first rows.
 * @throws {InputError} `damaged` where a row cannot be a key.
 */
export function keysFromRows(rows: readonly (readonly unknown[])[]): StudentKey[] {
  const students = new Map<string, { seed: number; recording: string; answers: AnswerKey[] }>();
  for (const [index, row] of rows.entries()) {
    const student = String(row[0] ?? "").trim();
    if (student === "") continue;
    const [, seed, metric, unit, value, tolerance] = row;
    if (typeof metric !== "string" || metric === "" || ![seed, value, tolerance].every((cell) => typeof cell === "number" && Number.isFinite(cell))) {
      throw new InputError("damaged", "a key requires a seed, a metric, a value and a tolerance in each row", `row ${index + 1}`);
    }
    const found = students.get(student) ?? { seed: seed as number, recording: String(row[7] ?? "").trim(), answers: [] };
    students.set(student, found);
    found.answers.push({ metric, unit: String(unit ?? ""), value: value as number, tolerance: tolerance as number, mistakes: mistakesFrom(String(row[6] ?? ""), index) });
  }
  return [...students].map(([student, { seed, recording, answers }]) => ({ student, seed, ...(recording === "" ? {} : { recording }), answers }));
}

function mistakesFrom(text: string, index: number): AnswerKey["mistakes"] {
  return text
    .split(";")
    .map((part) => part.trim())
    .filter((part) => part !== "")
    .map((part) => {
      const [id, number] = part.split("=");
      const value = Number(number);
      if (number === undefined || number === "" || !Number.isFinite(value)) throw new InputError("damaged", "a key requires mistakes as id=value", `row ${index + 1}`);
      return { id, value };
    });
}
