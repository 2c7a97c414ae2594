import type { Test } from "../protocols/Protocol.ts";

/** One choice on which the literature disagrees (or a limit a laboratory may set), as data. */
export interface SettingDefinition<V extends string | number = string | number> {
  /** Kebab-case id: the name on the Settings sheet and in `--set id=value`. */
  readonly id: string;
  /** Plain words, for the sheet and the pane. */
  readonly label: string;
  readonly default: V;
  /** Words that are allowed. A definition with `options` only takes one of them. */
  readonly options?: readonly string[];
  /** Numbers that are allowed, both ends included, in `unit`. May stand beside `options` (a number or a word). */
  readonly range?: readonly [number, number];
  readonly unit?: string;
  /** What the choice changes, and which way. */
  readonly description: string;
  /** Author and year, or "common practice". */
  readonly source: string;
  /** Tests it concerns; absent: all. */
  readonly tests?: readonly Test[];
}

/** Chosen values by setting id; always complete (a setting always holds a value). */
export interface Settings {
  readonly values: Readonly<Record<string, string | number>>;
  /** Short digest of all values, stored with every recorded result. Equal values give equal digests. */
  readonly digest: string;
}
