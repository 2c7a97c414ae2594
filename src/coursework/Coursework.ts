import type { Test } from "../protocols/Protocol.ts";
import type { Trace } from "../trace/Trace.ts";

/** What may be wrong with the recordings of a coursework, on purpose. */
export const COURSEWORK_FAULTS = ["offset", "drift", "bentLanding", "dip", "ringing", "sway"] as const;
export type CourseworkFault = (typeof COURSEWORK_FAULTS)[number];

/** What a teacher asks for. */
export interface CourseworkPlan {
  readonly test: Test;
  /** One name or code for each student. */
  readonly students: readonly string[];
  readonly faults: readonly CourseworkFault[];
  /** White noise, SD of each plate, N. */
  readonly noise: number;
  /** The teacher's seed, a whole number; a large one is harder to guess. */
  readonly seed: number;
  /** Metric ids to ask for; absent: the usual ones of the test. */
  readonly questions?: readonly string[];
  /** Sampling rate, Hz. @default 1000 */
  readonly rate?: number;
}

/** What a student gets: nothing here tells the seed or the answers. */
export interface Assignment {
  readonly student: string;
  readonly test: Test;
  readonly trace: Trace;
  readonly questions: readonly Question[];
}

export interface Question {
  /** Metric id, in any form `LEAP.METRIC` takes. */
  readonly metric: string;
  readonly unit: string;
}

/** What the teacher keeps for one student. */
export interface StudentKey {
  readonly student: string;
  readonly seed: number;
  /** Hash of the recording that was handed out, see `recordingHash`; absent in keys of earlier versions. */
  readonly recording?: string;
  readonly answers: readonly AnswerKey[];
}

export interface AnswerKey extends Question {
  readonly value: number;
  /** Accepted distance from the value, in the unit. */
  readonly tolerance: number;
  /** Answers that usual mistakes lead to. */
  readonly mistakes: readonly { readonly id: string; readonly value: number }[];
}

/** What marking says about the recording in a returned workbook. */
export interface RecordingMark {
  readonly outcome: "own" | "differs" | "of another" | "missing";
  /** Whose recording it is, where it is that of another student. */
  readonly of?: string;
}

/** What marking says about one answer. */
export interface Mark {
  readonly outcome: "right" | "mistake" | "wrong" | "blank" | "not a number";
  /** Id of the recognised mistake. */
  readonly mistake?: string;
  /** True where the answer cell is itself a formula of this add-in. */
  readonly byFunction: boolean;
  readonly message: string;
}
