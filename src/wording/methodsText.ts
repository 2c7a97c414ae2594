import { citation, fullReference, referencesIn } from "../catalogue/references.ts";
import type { Test } from "../protocols/Protocol.ts";
import { SETTINGS } from "../settings/definitions.ts";
import type { SettingDefinition, Settings } from "../settings/Settings.ts";
import { type Language, textsOf } from "./textsOf.ts";

/** A methods paragraph and the references it cites. */
export interface Methods {
  readonly paragraph: string;
  readonly references: readonly string[];
}

/** Order of the sentences; `integration` and `uncertainty` are not settings. */
const ORDER = [
  "weighing-length", "gravity", "zero-correction", "filter", "take-off-threshold", "onset-rule", "squat-onset-rule", "isometric-onset-rule", "integration", "height-method",
  "drop-velocity", "rsi-basis", "squat-dip-rule", "hops-used", "hop-contact-limit", "rfd-window", "isometric-rfd-window", "isometric-impulse-baseline", "asymmetry-formula", "session-value", "uncertainty",
] as const;

const BESIDE_SETTINGS: Readonly<Record<string, { readonly sources: readonly string[]; readonly tests: readonly Test[] }>> = {
  integration: { sources: ["linthorne2001", "owen2014"], tests: ["CMJ", "SJ", "DJ", "RH"] },
  uncertainty: { sources: ["jcgm2008"], tests: ["CMJ", "SJ", "DJ", "RH", "IMTP"] },
};

const definitions: ReadonlyMap<string, SettingDefinition> = new Map(SETTINGS.map((definition) => [definition.id, definition]));

/**
 * A methods paragraph of the settings used for some tests, with the references of every choice it names; a setting that
 * it has no sentence for is listed where it differs from its default.
 *
 * @param settings Settings, each in the unit of its definition.
 * @param tests Tests that were done, no unit.
 * @param version Version of the program, no unit; left out of the text where it is not given.
 * @param language Language, no unit.
 * @returns Paragraph and references in the order of the alphabet, no unit.
 */
export function methods(settings: Settings, tests: readonly Test[], version?: string, language?: Language): Methods {
  const texts = textsOf(language);
  const cited = new Set<string>();
  const intro = texts.methods.intro!
    .replace("{tests}", joined(tests.map((test) => plural(texts.tests[test].toLowerCase()))))
    .replace("[ {version}]", version ? ` ${version}` : "")
    .replace("{digest}", settings.digest);
  const sentences = [intro];
  const named = new Set<string>();
  for (const id of ORDER) {
    const beside = BESIDE_SETTINGS[id];
    const concerned = beside?.tests ?? definitions.get(id)?.tests;
    if (concerned && !concerned.some((test) => tests.includes(test))) continue;
    const value = settings.values[id];
    if (beside === undefined && (value === undefined || value === "none") && texts.methods[`${id}=${value}`] === undefined) continue;
    const template = texts.methods[`${id}=${value}`] ?? texts.methods[id];
    if (template === undefined) continue;
    for (const [, other] of `{${id}}${template}`.matchAll(/\{([a-z0-9-]+)/g)) named.add(other!);
    const sources = beside?.sources ?? referencesIn(definitions.get(id)?.source ?? "");
    for (const key of sources) cited.add(key);
    const sentence = template
      .replace("{value:lower}", String(value).toLowerCase())
      .replace("{value}", String(value))
      .replace(/\{([a-z0-9-]+)\}/g, (_, other: string) => String(settings.values[other] ?? ""));
    sentences.push(sources.length ? `${sentence.slice(0, -1)} (${sources.map(inBrackets).join("; ")}).` : sentence);
  }
  const others = SETTINGS.filter(({ id, default: usual, tests: concerned }) => !named.has(id) && settings.values[id] !== usual && (!concerned || concerned.some((test) => tests.includes(test))));
  if (others.length) {
    const list = others.map(({ id, unit }) => `${id} = ${settings.values[id]}${unit && typeof settings.values[id] === "number" ? ` ${unit}` : ""}`).join(", ");
    sentences.push(texts.methods.others!.replace("{list}", list));
  }
  const references = [...cited].map(fullReference).sort((a, b) => a.localeCompare(b, "en"));
  return { paragraph: sentences.join(" "), references };
}

/**
 * A methods paragraph and its references as one text.
 *
 * @param settings Settings, each in the unit of its definition.
 * @param tests Tests that were done, no unit.
 * @param version Version of the program, no unit.
 * @param language Language, no unit.
 * @returns Paragraph, a blank line, and the references, one a line, no unit.
 */
export function methodsText(settings: Settings, tests: readonly Test[], version?: string, language?: Language): string {
  const { paragraph, references } = methods(settings, tests, version, language);
  return [paragraph, "", textsOf(language).methods.references!, ...references].join("\n");
}

/** `Owen et al. (2014)` as it stands inside brackets: `Owen et al., 2014`. */
const inBrackets = (key: string): string => citation(key).replace(/ \((\d{4})\)$/, ", $1");

const plural = (name: string): string => (name.endsWith("s") ? name : `${name}s`);

const joined = (names: readonly string[]): string => (names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`);
