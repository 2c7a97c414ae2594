import { parseArgs } from "node:util";
import { InputError } from "../src/errors.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { formatProtocol } from "../src/protocols/formatProtocol.ts";
import { TESTS, type Protocol, type Test } from "../src/protocols/Protocol.ts";
import { settingsFrom } from "../src/settings/settingsFrom.ts";

export const FORMATS = ["table", "json", "csv", "xlsx", "parquet"] as const;
export type Format = (typeof FORMATS)[number];

/** What one run of `leapsheet analyse` was asked to do. Plain data: it is sent to the worker threads as it is. */
export interface Options {
  readonly places: readonly string[];
  /** Canonical protocol text. */
  readonly protocol: string;
  readonly rate?: number;
  /** One-based column numbers by role. */
  readonly columns?: Readonly<Record<string, number>>;
  readonly invert: boolean;
  readonly bodyWeight?: number;
  readonly settings: readonly (readonly [string, string])[];
  readonly asPacked: boolean;
  readonly jobs: number;
  readonly format: Format;
  readonly out?: string;
  /** File for the samples of every analysed trial. */
  readonly samples?: string;
}

export const USAGE = `leapsheet analyse <files or folders…> --test CMJ|SJ|DJ|RH|IMTP

  --arms hips|swing        hands on the hips, or a free arm swing
  --limb both|left|right   which leg
  --drop-height 0.30       nominal drop height, m (drop jump)
  --load 20                external load, kg
  --rate 1000              samples per second, where the file does not say
  --columns left=3,right=6 one-based force columns: total, left, right, box, time
  --invert                 force is negative under load
  --body-weight 589        body weight weighed elsewhere, N
  --set take-off-threshold=20   a setting; may be given again
  --as-packed              analyse what a spreadsheet cell would hold
  --jobs 2                 worker threads
  --format table|json|csv|xlsx|parquet   table by default; the last two need --out
  --out FILE               write there instead of to the screen
  --samples FILE           also write every analysed sample there, as Parquet

Jump tests are maximal efforts. Follow local rules; licensed practice decides who may be tested.`;

/**
 * Reads the words of the command line.
 *
 * @throws {InputError} `unknown-name` or `out-of-range` with a sentence for the person.
 */
export function parseOptions(words: readonly string[]): Options {
  let parsed;
  try {
    parsed = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        test: { type: "string" }, arms: { type: "string" }, limb: { type: "string" }, "drop-height": { type: "string" }, load: { type: "string" },
        rate: { type: "string" }, columns: { type: "string" }, invert: { type: "boolean" }, "body-weight": { type: "string" },
        set: { type: "string", multiple: true }, "as-packed": { type: "boolean" }, jobs: { type: "string" },
        format: { type: "string" }, out: { type: "string" }, samples: { type: "string" },
      },
    });
  } catch (error) {
    throw new InputError("unknown-name", (error as Error).message.split("\n")[0]!.replace(/\.( To specify a positional.*)?$/s, ""));
  }
  const { values, positionals } = parsed;
  if (positionals.length === 0) {
    throw new InputError("wrong-shape", "analyse requires at least one file or folder");
  }
  const protocol = protocolOf(values);
  const settings = (values.set ?? []).map(settingOf);
  settingsFrom(settings.map(([id, value]) => [id, numberOrWord(value)] as const));
  const format = values.format ?? "table";
  if (!(FORMATS as readonly string[]).includes(format)) {
    throw new InputError("unknown-name", `--format requires one of ${FORMATS.join(", ")}`);
  }
  if ((format === "xlsx" || format === "parquet") && values.out === undefined) {
    throw new InputError("wrong-shape", `--format ${format} requires --out with the name of a file: it is no text for a screen`);
  }
  if (values.samples !== undefined && values.samples === values.out) {
    throw new InputError("wrong-shape", "--samples requires another file than --out");
  }
  return {
    places: positionals,
    protocol,
    ...optional("rate", positive(values.rate, "--rate")),
    ...optional("columns", values.columns === undefined ? undefined : columnsOf(values.columns)),
    invert: values.invert ?? false,
    ...optional("bodyWeight", positive(values["body-weight"], "--body-weight")),
    settings,
    asPacked: values["as-packed"] ?? false,
    jobs: Math.min(64, Math.max(1, Math.round(positive(values.jobs, "--jobs") ?? 1))),
    format: format as Format,
    ...optional("out", values.out),
    ...optional("samples", values.samples),
  };
}

/** A setting's value as text from the command line: a number where it reads as one. */
export function numberOrWord(value: string): string | number {
  return value.trim() !== "" && Number.isFinite(Number(value)) ? Number(value) : value;
}

function protocolOf(values: Record<string, unknown>): string {
  const test = String(values.test ?? "").toUpperCase();
  if (!(TESTS as readonly string[]).includes(test)) {
    throw new InputError("unknown-name", `--test requires one of ${TESTS.join(", ")}`);
  }
  const dropHeight = positive(values["drop-height"], "--drop-height");
  const load = positive(values.load, "--load");
  const protocol: Protocol = {
    test: test as Test,
    ...optional("arms", oneOf(values.arms, "--arms", ["hips", "swing"] as const)),
    ...optional("limb", oneOf(values.limb, "--limb", ["both", "left", "right"] as const)),
    ...optional("dropHeight", dropHeight),
    ...optional("load", load),
  };
  return formatProtocol(parseProtocol(formatProtocol(protocol)));
}

function settingOf(text: string): readonly [string, string] {
  const at = text.indexOf("=");
  if (at < 1) {
    throw new InputError("wrong-shape", `--set requires name=value, not ${text}`);
  }
  return [text.slice(0, at).trim(), text.slice(at + 1).trim()];
}

function columnsOf(text: string): Record<string, number> {
  const columns: Record<string, number> = {};
  for (const part of text.split(",")) {
    const match = /^\s*(time|total|left|right|box)\s*=\s*(\d+)\s*$/.exec(part);
    if (!match || Number(match[2]) < 1) {
      throw new InputError("wrong-shape", `--columns requires role=number with a role of time, total, left, right or box, not ${part.trim()}`);
    }
    columns[match[1]!] = Number(match[2]);
  }
  return columns;
}

function positive(value: unknown, name: string): number | undefined {
  if (value === undefined) {
    return undefined;
  }
  const number = Number(value);
  if (!Number.isFinite(number) || number <= 0) {
    throw new InputError("out-of-range", `${name} requires a number above zero, not ${String(value)}`);
  }
  return number;
}

function oneOf<T extends string>(value: unknown, name: string, words: readonly T[]): T | undefined {
  if (value === undefined) {
    return undefined;
  }
  if (!(words as readonly string[]).includes(String(value))) {
    throw new InputError("unknown-name", `${name} requires one of ${words.join(", ")}`);
  }
  return value as T;
}

function optional<K extends string, V>(key: K, value: V | undefined): { [P in K]?: V } {
  return (value === undefined ? {} : { [key]: value }) as { [P in K]?: V };
}
