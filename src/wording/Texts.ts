import type { EventName, Phase } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import type { Source } from "../uncertainty/sources.ts";

/** Every sentence shown to a person, of one language. To translate, write a second object of this type and list it in `textsOf.ts`. */
export interface Texts {
  readonly events: Readonly<Record<EventName, string>>;
  readonly phases: Readonly<Record<Phase["name"], string>>;
  readonly tests: Readonly<Record<Test, string>>;
  readonly actions: Readonly<Record<"note" | "corrected" | "look" | "leave out" | "not checked", string>>;
  /** Words for the values that findings hold as ids, by key. */
  readonly words: Readonly<Record<"plate" | "route", Readonly<Record<string, string>>>>;
  readonly groups: Readonly<Record<"T" | "B" | "V" | "L" | "A", string>>;
  /** Templates by rule, or by rule and case (`Q9.below`); see `fillTemplate`. */
  readonly findings: Readonly<Record<string, string>>;
  /** What a quality rule looks at, by rule, for the reference and the pane. */
  readonly rules: Readonly<Record<string, { readonly title: string; readonly asks: string }>>;
  /** Words that are not metrics: the first name is the heading, the others are accepted too. */
  readonly terms: readonly { readonly names: readonly string[]; readonly text: string; readonly sources: readonly string[] }[];
  readonly cautions: { readonly all: readonly string[]; readonly byTest: Readonly<Record<Test, readonly string[]>>; readonly result: readonly string[] };
  /** How a test is set up and asked for; `repeatIf` holds ends of a sentence that begins with "Repeat if". */
  readonly cues: Readonly<Record<Test, Readonly<Record<"setUp" | "say" | "timing" | "repeatIf", readonly string[]>>>>;
  /** Names of the contributions to a standard uncertainty. */
  readonly uncertainty: Readonly<Record<Source, { readonly name: string; readonly says: string }>>;
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
}
