import { InputError } from "../../../src/errors.ts";
import { MOST_STUDENTS } from "../../../src/coursework/makeCoursework.ts";
import type { CourseworkFault, CourseworkPlan } from "../../../src/coursework/Coursework.ts";
import { faultsOf } from "../../../src/coursework/faultsOf.ts";
import type { Test } from "../../../src/protocols/Protocol.ts";
import { words } from "../words.ts";

/** Seeds a person may type, and those that are drawn. */
const MOST_SEED = 2147483647;

/** What a teacher types. */
export interface CourseworkForm {
  readonly test: Test;
  /** One name or code a line. */
  readonly students: string;
  /** Size of a group without names. */
  readonly size: string;
  readonly noise: string;
  /** Blank: drawn. */
  readonly seed: string;
  readonly faults: ReadonlySet<CourseworkFault>;
}

/**
 * The coursework that a form asks for.
 *
 * @param draw Gives a seed where none was typed.
 * @throws {InputError} `not-a-number` where a number is expected.
 */
export function courseworkPlan(form: CourseworkForm, draw: () => number): CourseworkPlan {
  const names = form.students.split(/[\n;,\t]/).map((name) => name.trim().replace(/\s+/g, " ")).filter((name) => name !== "");
  const seed = form.seed.trim() === "" ? draw() : wholeNumber(form.seed, MOST_SEED, words.teach.needSeed);
  const noise = Number(form.noise.trim().replace(",", ".") || NaN);
  if (!Number.isFinite(noise)) throw new InputError("not-a-number", words.bringIn.notNumber(words.teach.noise));
  return {
    test: form.test,
    students: names.length > 0 ? names : codes(wholeNumber(form.size, MOST_STUDENTS, words.teach.needStudents)),
    faults: faultsOf(form.test).filter((fault) => form.faults.has(fault)),
    noise,
    seed,
  };
}

/** A seed that cannot be guessed from the time of day. */
export function drawSeed(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0] % MOST_SEED;
}

/** Codes of one length, so that files sort as they count. */
function codes(size: number): readonly string[] {
  const digits = String(size).length;
  return Array.from({ length: size }, (_, place) => `${words.teach.student} ${String(place + 1).padStart(digits, "0")}`);
}

function wholeNumber(text: string, most: number, sentence: (most: number) => string): number {
  const value = Number(text.trim() || NaN);
  if (!Number.isInteger(value) || value < 1 || value > most) throw new InputError("not-a-number", sentence(most));
  return value;
}
