import { citation, fullReference, REFERENCES, referencesIn } from "../catalogue/references.ts";
import { resolveMetricName } from "../catalogue/resolveMetricName.ts";
import { InputError } from "../errors.ts";
import { ASYMMETRY_FORMULAS } from "../metrics/asymmetry.ts";
import { POWER_EQUATIONS } from "../metrics/powerEstimate.ts";
import { nearestNames, plainName } from "../names.ts";
import { TESTS } from "../protocols/Protocol.ts";
import { SETTINGS } from "../settings/definitions.ts";
import type { SettingDefinition } from "../settings/Settings.ts";
import { cautions } from "./cautions.ts";
import { explainMetric } from "./explainMetric.ts";
import { inLanguage } from "./inLanguage.ts";
import { type Language, textsOf } from "./textsOf.ts";

/** What a name stands for: words, and the literature behind it. */
interface Entry {
  readonly text: string;
  readonly sources: readonly string[];
}

/**
 * Plain words for a name: a metric in any form, a term of the trade, a setting, a quality rule, a test, an asymmetry formula
 * or a power equation.
 *
 * @param name Name as a person writes it, no unit.
 * @param language Language, no unit.
 * @returns One text, no unit.
 * @throws {InputError} `unknown-name` with the nearest names.
 */
export function explain(name: string, language?: Language): string {
  return find(name, language).text;
}

/**
 * The literature behind a name: see `explain` for what has a name.
 *
 * @param name Name as a person writes it, or the key of a reference, no unit.
 * @param language Language, no unit.
 * @returns References as they stand in a list of references, no unit; "Common practice; no source." where there is none.
 * @throws {InputError} `unknown-name` with the nearest names.
 */
export function sourcesOf(name: string, language?: Language): readonly string[] {
  const key = plainName(name);
  if (REFERENCES[key]) return [fullReference(key)];
  const { sources } = find(name, language);
  return sources.length ? sources.map(fullReference) : [inLanguage(NO_SOURCE, language)];
}

const NO_SOURCE = "Common practice; no source.";

function find(name: string, language: Language | undefined): Entry {
  try {
    const metric = resolveMetricName(name);
    return { text: explainMetric(metric, language), sources: metric.base.sources };
  } catch (error) {
    const other = otherEntry(plainName(name), language);
    if (other) return other;
    // The metric was found and only its form or unit was wrong: that sentence says more.
    if (!(error instanceof InputError) || !error.message.startsWith("a metric requires")) throw error;
    const others = [...[...SETTINGS, ...ASYMMETRY_FORMULAS, ...POWER_EQUATIONS].map(({ id }) => id), ...textsOf(language).terms.flatMap(({ names }) => names)];
    throw new InputError("unknown-name", `${error.message}; of the other names, ${nearestNames(name, others, 1)[0]}`);
  }
}

/** A term, a test, a rule, a setting or a named formula. */
function otherEntry(sought: string, language: Language | undefined): Entry | undefined {
  const texts = textsOf(language);
  const say = (text: string): string => inLanguage(text, language);
  const test = TESTS.find((id) => plainName(id) === sought || plainName(texts.tests[id]) === sought);
  if (test) return { text: [`${texts.tests[test]}.`, ...cautions(test, language)].join(" "), sources: [] };
  const term = texts.terms.find(({ names }) => names.some((name) => plainName(name) === sought));
  if (term) {
    const cited = term.sources.length ? ` ${texts.explain.sources}: ${term.sources.map(citation).join("; ")}.` : "";
    return { text: `${term.names[0]!}: ${term.text}${cited}`, sources: term.sources };
  }
  const rule = Object.keys(texts.rules).find((id) => plainName(id) === sought);
  if (rule) return ruleEntry(rule, language);
  const setting = SETTINGS.find(({ id, label }) => plainName(id) === sought || plainName(label) === sought);
  if (setting) return settingEntry(setting, language);
  const formula = ASYMMETRY_FORMULAS.find((entry) => plainName(entry.name) === sought || plainName(entry.id) === sought);
  if (formula) return { text: `${say(formula.name)}: ${formula.formula}.${formula.note ? ` ${say(formula.note)}.` : ""}`, sources: referencesIn(formula.source) };
  const equation = POWER_EQUATIONS.find((entry) => plainName(entry.name) === sought || plainName(entry.id) === sought);
  if (equation) return { text: `${say(equation.name)}: ${say(equation.note)}.`, sources: referencesIn(equation.source) };
  return undefined;
}

function ruleEntry(rule: string, language: Language | undefined): Entry {
  const { title, asks } = textsOf(language).rules[rule]!;
  const limits = SETTINGS.filter(({ id }) => id.startsWith(`${rule.toLowerCase()}-`));
  const named = limits.length ? ` ${inLanguage("Settings", language)}: ${limits.map(({ id }) => id).join(", ")}.` : "";
  return { text: `${rule}, ${title}: ${asks}${named}`, sources: unique(limits.flatMap(({ source }) => referencesIn(source))) };
}

function settingEntry(setting: SettingDefinition, language: Language | undefined): Entry {
  const { explain: words } = textsOf(language);
  const unit = setting.unit && setting.unit !== "" ? ` ${setting.unit}` : "";
  const allowed = [...(setting.range ? [inLanguage(`${setting.range[0]} to ${setting.range[1]}${unit}`, language)] : []), ...(setting.options ?? [])].join(", ");
  const value = typeof setting.default === "number" ? `${setting.default}${unit}` : setting.default;
  return {
    text: `${inLanguage(setting.label, language)}: ${inLanguage(setting.description, language)} ${words.default}: ${value}. ${words.allowed}: ${allowed}. ${words.sources}: ${inLanguage(setting.source, language)}.`,
    sources: referencesIn(setting.source),
  };
}

const unique = (keys: readonly string[]): readonly string[] => [...new Set(keys)];
