import type { EventName } from "../protocols/Analysis.ts";
import { fillTemplate } from "./fillTemplate.ts";
import type { Texts } from "./Texts.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * What a rule found, as a sentence.
 *
 * The text is chosen by the rule, and by `values.case` where a rule has several things to say; the value keys of each are
 * the names in braces in `src/wording/en/findings.ts`.
 *
 * @param rule Rule, Q1 to Q25, or a named finding such as `threshold`, no unit.
 * @param values Values by key in SI units and percent, and `case`; ids of plates, routes and events become words.
 * @param language Language, no unit.
 * @returns The sentence, no unit.
 */
export function findingSentence(rule: string, values: Readonly<Record<string, number | string>>, language?: Language): string {
  const texts = textsOf(language);
  const template = texts.findings[`${rule}.${values.case}`] ?? texts.findings[rule];
  return template === undefined ? `${texts.rules[rule]?.title ?? rule}.` : fillTemplate(template, inWords(texts, values), texts.decimalMark);
}

function inWords({ words, events }: Texts, values: Readonly<Record<string, number | string>>): Readonly<Record<string, number | string>> {
  const { plate, route, event } = values;
  if (plate === undefined && route === undefined && event === undefined) return values;
  return {
    ...values,
    ...(plate === undefined ? {} : { plate: words.plate[plate] ?? plate }),
    ...(route === undefined ? {} : { route: words.route[route] ?? route }),
    ...(event === undefined ? {} : { event: events[event as EventName] ?? event }),
  };
}
