import type { RecordingMark } from "../coursework/Coursework.ts";
import type { Phase } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import type { Source } from "../uncertainty/sources.ts";

/** Heads of coursework by which answers and recording are found again in what comes back. */
export type CourseworkHead = "metric" | "answer" | "time" | "total" | "left" | "right" | "box";

/** The sentences that the pane and the reference show and no cell function gives, of one language. */
export interface PageTexts {
  readonly phases: Readonly<Record<Phase["name"], string>>;
  readonly actions: Readonly<Record<"note" | "corrected" | "look" | "leave out" | "not checked", string>>;
  /** What a metric needs, by group. */
  readonly groups: Readonly<Record<"T" | "B" | "V" | "L" | "A", string>>;
  /** How a test is set up and asked for; `repeatIf` holds ends of a sentence that begins with "Repeat if". */
  readonly cues: Readonly<Record<Test, Readonly<Record<"setUp" | "say" | "timing" | "repeatIf", readonly string[]>>>>;
  /** Names of the contributions to a standard uncertainty. */
  readonly uncertainty: Readonly<Record<Source, { readonly name: string; readonly says: string }>>;
  /** What marking of coursework says about the recording, by outcome. */
  readonly recording: Readonly<Record<Exclude<RecordingMark["outcome"], "own">, string>>;
  /** What stands on the sheets for people to read. Names of sheets and tables, and the heads by which they are found again, are no texts. */
  readonly sheets: {
    readonly report: Readonly<Record<"date" | "protocol" | "quantity" | "unit" | "value" | "u" | "n" | "error" | "freedom" | "betweenDays" | "forPlaces", string>>;
    readonly numbers: Readonly<Record<"trials" | "record" | "squad" | "quantity" | "from" | "unit" | "error" | "freedom" | "low" | "high" | "worthwhile" | "value", string>>;
    readonly settings: Readonly<Record<"unit" | "meaning" | "allowed" | "default" | "source", string>>;
    readonly sessions: Readonly<Record<"notCombined", string>>;
    readonly charts: Readonly<Record<"title" | "trial" | "noProtocol" | "left" | "right", string>>;
    /** What a student gets; `{recording}` is the name of the sheet. */
    readonly coursework: Readonly<Record<"title" | "student" | "test" | "rate" | "question" | "unit", string>> & { readonly task: readonly string[]; readonly heads: Readonly<Record<CourseworkHead, string>> };
    readonly key: Readonly<Record<"test" | "seed" | "noise" | "faults" | "students" | "version", string>>;
    readonly marks: Readonly<Record<"right" | "questions" | "byFunction" | "recording" | "own" | "metric" | "unit" | "answer" | "expected" | "tolerance" | "outcome" | "says", string>>;
    readonly demo: Readonly<Record<"squad" | "note", string>>;
  };
  /** Instead of the pane, where it cannot open. */
  readonly opening: Readonly<Record<"notInExcel" | "excelTooOld", string>>;
}
