import type { EventName } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";

/**
 * The sentences that cell functions give, of one language; those that only pages show stand in `PageTexts`, which Excel does not load with
 * the functions. To translate, write a second object of each type and list them in `textsOf.ts` and `pageTextsOf.ts`.
 */
export interface Texts {
  readonly events: Readonly<Record<EventName, string>>;
  readonly tests: Readonly<Record<Test, string>>;
  /** What stands before the decimals of a number in a sentence; a point where it is left out. */
  readonly decimalMark?: string;
  /** Words for the values that findings hold as ids, by key. */
  readonly words: Readonly<Record<"plate" | "route", Readonly<Record<string, string>>>>;
  /** Templates by rule, or by rule and case (`Q9.below`); see `fillTemplate`. */
  readonly findings: Readonly<Record<string, string>>;
  /** What a quality rule looks at, by rule, for the reference and the pane. */
  readonly rules: Readonly<Record<string, { readonly title: string; readonly asks: string }>>;
  /** Words that are not metrics: the first name is the heading, the others are accepted too. */
  readonly terms: readonly { readonly names: readonly string[]; readonly text: string; readonly sources: readonly string[] }[];
  readonly cautions: { readonly all: readonly string[]; readonly byTest: Readonly<Record<Test, readonly string[]>>; readonly result: readonly string[] };
  /** Parts of an explanation. */
  readonly explain: Readonly<
    Record<"assumes" | "watchFor" | "range" | "sources" | "left" | "right" | "relative" | "net" | "asymmetry" | "sideImpulse" | "default" | "allowed", string>
  >;
  /** Templates of careful readings, by reading and case; see `readings.ts`. */
  readonly readings: Readonly<Record<string, string>>;
  /** Sentences of the methods paragraph, by setting id and value where they differ; see `methodsText`. */
  readonly methods: Readonly<Record<string, string>>;
  /** What marking of coursework says, by outcome or by recognised mistake. */
  readonly coursework: Readonly<Record<string, string>>;
  /**
   * Translations of what stands in English beside the data it belongs to (definitions, settings, errors, what readers say), by the English
   * text; see `inLanguage`. Absent in English. `npm run sentences` writes the keys.
   */
  readonly sentences?: Readonly<Record<string, string>>;
}
