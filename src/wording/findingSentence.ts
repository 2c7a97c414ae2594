import { fillTemplate } from "./fillTemplate.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * What a rule found, as a sentence.
 *
 * The text is chosen by the rule and by `values.case` where a rule has several things to say; the value keys of each are
 * the names in braces in `src/wording/en/findings.ts`.
 *
 * @param rule Rule, Q1 to Q25, or a named finding such as `threshold`, no unit.
 * @param values Values by key in SI units, and `case`.
 * @param language Language, no unit.
 * @returns The sentence, no unit.
 */
export function findingSentence(rule: string, values: Readonly<Record<string, number | string>>, language?: Language): string {
  const { findings, rules } = textsOf(language);
  const template = findings[`${rule}.${values.case}`] ?? findings[rule];
  if (template !== undefined) return fillTemplate(template, values);
  return rules[rule]?.title ?? rule;
}
