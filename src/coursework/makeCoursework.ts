import type { Assignment, CourseworkFault, CourseworkPlan, StudentKey } from "./Coursework.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { InputError } from "../errors.ts";
import { type SeededRandom, seededRandom } from "../synthetic/seededRandom.ts";
import type { SyntheticFaults, SyntheticOptions } from "../synthetic/SyntheticOptions.ts";
import { type SyntheticTrial, syntheticTrial } from "../synthetic/syntheticTrial.ts";
import { answerKey } from "./answerKey.ts";
import { questionsOf } from "./questionsOf.ts";
import { recordingHash } from "./recordingHash.ts";

/** Tries at a motion that is possible, before giving up. */
const TRIES = 50;
/** Largest group: a lecture hall. */
export const MOST_STUDENTS = 1000;

/**
 * A coursework: a different synthetic recording for each student, with the key for the teacher.
 *
 * The recording, the faults and the answers follow from the teacher's seed and the place of the student in the list: the same plan gives
 * the same coursework again. An assignment holds the trace and never a seed.
 *
 * @param plan Test, students, faults; noise in N.
 * @returns Assignments and keys in the order of the students.
 * @throws {InputError} `out-of-range` for a group, noise or rate that cannot be.
 * @throws {InputError} `not-available` for a question without an exact answer.
 */
export function makeCoursework(plan: CourseworkPlan): { readonly assignments: readonly Assignment[]; readonly keys: readonly StudentKey[] } {
  const { students, noise } = plan;
  if (students.length < 1 || students.length > MOST_STUDENTS) throw new InputError("out-of-range", `coursework requires 1 to ${MOST_STUDENTS} students`);
  if (!(noise >= 0 && noise <= 50)) throw new InputError("out-of-range", "coursework requires noise of 0 to 50 N");
  if (new Set(students).size !== students.length) throw new InputError("wrong-shape", "coursework requires a different name or code for each student");
  const seeds = seededRandom(plan.seed);
  const assignments: Assignment[] = [];
  const keys: StudentKey[] = [];
  for (const student of students) {
    const seed = seeds.integer(1, 2147483647);
    const { trial, offset } = recordingFor(plan, seed);
    const facts = { truth: trial.truth, gravity: STANDARD_GRAVITY, offset, takeoff: trial.events.takeoff };
    const usual = questionsOf(plan.test);
    const asked = plan.questions?.map((metric) => usual.find((leeway) => leeway.metric === metric) ?? metric) ?? usual;
    const answers = asked.map((question) => answerKey(question, facts));
    assignments.push({ student, test: plan.test, trace: trial.trace, questions: answers.map(({ metric, unit }) => ({ metric, unit })) });
    keys.push({ student, seed, recording: recordingHash(trial.trace.plates.map(({ force }) => force)), answers });
  }
  return { assignments, keys };
}

/** A possible motion with the faults asked for; draws again where the targets do not go together. */
function recordingFor(plan: CourseworkPlan, seed: number): { trial: SyntheticTrial; offset: number } {
  const random = seededRandom(seed);
  const faults = faultsFor(plan, random);
  const offset = (faults.offset?.[0] ?? 0) + (faults.offset?.[1] ?? 0);
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const options: SyntheticOptions = { ...athlete(plan, random), seed, rate: plan.rate ?? 1000, faults };
    try {
      return { trial: syntheticTrial(options), offset };
    } catch (error) {
      if (!(error instanceof InputError) || attempt === TRIES - 1) throw error;
    }
  }
  throw new InputError("out-of-range", "coursework requires a motion that is possible");
}

function athlete({ test, faults }: CourseworkPlan, random: SeededRandom): SyntheticOptions {
  const has = (fault: CourseworkFault): boolean => faults.includes(fault);
  const left = random.between(0.46, 0.54);
  const common = { test, mass: rounded(random.between(52, 98), 0.1), leftShare: left, landingLower: has("bentLanding") ? random.between(0.05, 0.09) : 0 };
  switch (test) {
    case "CMJ":
      return { ...common, height: random.between(0.22, 0.42), timeToTakeoff: random.between(0.7, 0.9), depth: random.between(0.26, 0.36) };
    case "SJ":
      return { ...common, height: random.between(0.2, 0.36), ...(has("dip") ? { dip: random.between(0.11, 0.15) } : { timeToTakeoff: random.between(0.3, 0.42) }) };
    case "DJ":
      return { ...common, height: random.between(0.2, 0.36), drop: random.between(0.22, 0.38), contactTime: random.between(0.17, 0.26) };
    case "RH": {
      const contactTimes = Array.from({ length: 10 }, () => random.between(0.17, 0.23));
      return { ...common, landingLower: 0, hops: { contactTimes, takeoffVelocities: [random.between(2.2, 2.6), ...contactTimes.map(() => random.between(2.1, 2.6))] } };
    }
    case "IMTP":
      return { ...common, pull: { pretension: random.between(8, 45), rise: random.between(1100, 2200), timeConstant: random.between(0.07, 0.12) } };
  }
}

function faultsFor({ faults, noise, test }: CourseworkPlan, random: SeededRandom): SyntheticFaults {
  const has = (fault: CourseworkFault): boolean => faults.includes(fault);
  return {
    ...(noise > 0 ? { noise } : {}),
    ...(has("sway") ? { sway: random.between(1.5, 3) } : {}),
    ...(has("offset") ? { offset: [random.between(6, 14), random.between(6, 14)] } : {}),
    ...(has("drift") ? { drift: [random.between(0.6, 1.2), random.between(0.6, 1.2)] } : {}),
    ...(has("ringing") && test !== "IMTP" ? { ringing: { amplitude: random.between(15, 30), frequency: random.between(35, 70) } } : {}),
  };
}

function rounded(value: number, step: number): number {
  return Math.round(value / step) * step;
}
