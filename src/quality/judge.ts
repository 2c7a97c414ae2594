import type { Finding, FindingAction, Verdict } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import type { Settings } from "../settings/Settings.ts";
import { findingSentence } from "../wording/findingSentence.ts";
import type { Facts } from "./Facts.ts";
import { type Judgement, type Rule, RULES } from "./rules.ts";

const SEVERITY: Readonly<Record<FindingAction, number>> = { "leave out": 0, look: 1, corrected: 2, note: 3, "not checked": 4 };

/**
 * Judges one trial by every rule that belongs to its test.
 *
 * @param facts What the analysis measured.
 * @param settings Limits.
 * @returns Findings in order of severity, each with its sentence.
 */
export function judge(facts: Facts, settings: Settings): Finding[] {
  const limit = (id: string): number => {
    const value = settings.values[id];
    return typeof value === "number" ? value : Infinity;
  };
  const findings: Finding[] = [];
  for (const rule of rulesOf(facts.test)) {
    const judged = rule.judge(facts, limit);
    if (judged === undefined) continue;
    if ("action" in judged) findings.push(findingOf(rule.id, judged));
    else for (const judgement of judged) findings.push(findingOf(rule.id, judgement));
  }
  return findings.sort((a, b) => SEVERITY[a.action] - SEVERITY[b.action]);
}

const byTest = new Map<Test, readonly Rule[]>();

function rulesOf(test: Test): readonly Rule[] {
  let rules = byTest.get(test);
  if (rules === undefined) {
    rules = RULES.filter(({ tests }) => tests === undefined || tests.includes(test));
    byTest.set(test, rules);
  }
  return rules;
}

/**
 * Verdict of a trial: leave out for faults of technique, look where a person should, keep otherwise.
 *
 * @param findings Findings of the trial.
 * @returns The verdict.
 */
export function verdictOf(findings: readonly Finding[]): Verdict {
  if (findings.some((finding) => finding.action === "leave out")) return "leave out";
  return findings.some((finding) => finding.action === "look") ? "look" : "keep";
}

/** Sentences without values are the same every time. */
const fixedSentences = new Map<string, string>();

function findingOf(rule: string, judgement: Judgement): Finding {
  const values = judgement.values ?? {};
  return { rule, action: judgement.action, removes: judgement.removes ?? [], message: sentenceOf(rule, values), values };
}

function sentenceOf(rule: string, values: Readonly<Record<string, number | string>>): string {
  for (const key in values) if (key !== "case") return findingSentence(rule, values);
  const key = `${rule}.${values["case"] ?? ""}`;
  let sentence = fixedSentences.get(key);
  if (sentence === undefined) {
    sentence = findingSentence(rule, values);
    fixedSentences.set(key, sentence);
  }
  return sentence;
}
