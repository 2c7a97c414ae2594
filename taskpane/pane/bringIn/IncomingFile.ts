import type { Test } from "../../../src/protocols/Protocol.ts";
import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import type { Recording } from "../../../src/read/Recording.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

/** What was read of a file apart from its samples. */
export type ReadRecording = Omit<Recording, "trace" | "problem">;

/** A file on its way in. */
export interface IncomingFile {
  /** Unique among the files on the list. */
  readonly id: string;
  readonly file: File;
  /** Folder path and name, as chosen. */
  readonly path: string;
  /** What a person corrected, or what was remembered of such files; empty where everything is as guessed. */
  readonly recipe: ImportRecipe;
  /** Name of the remembered recipe that was used. */
  readonly remembered?: string;
  /** Absent until the file was read. */
  readonly recording?: ReadRecording;
  readonly trace?: Trace;
  /** One sentence why the file gives no trace. */
  readonly problem?: string;
  /** Blank: the name that holds for all files. */
  readonly athlete: string;
  /** ISO date; blank: the date that holds for all files. */
  readonly date: string;
  /** Absent: the test that holds for all files. */
  readonly test?: Test;
}

/** What all files on the list share unless a file says otherwise. */
export interface CommonFacts {
  readonly athlete: string;
  readonly date: string;
  readonly test: Test;
  readonly arms: "" | "hips" | "swing";
  readonly limb: "" | "both" | "left" | "right";
  /** As typed. */
  readonly dropHeight: string;
  readonly load: string;
  readonly mass: string;
}
