import type { Protocol, Test } from "./Protocol.ts";
import { TESTS } from "./Protocol.ts";
import { InputError } from "../errors.ts";
import { checkProtocol } from "./checkProtocol.ts";

/**
 * A protocol from its text, for instance `DJ drop=0.30 arms=hips limb=both load=20`.
 *
 * The test comes first; the rest in any order and any case. A number may have a decimal comma.
 *
 * @param text Protocol text; drop height in m, load in kg.
 * @returns What was stated; fields that were not stated are absent.
 * @throws {InputError} `unknown-name` for an unknown test, word or key.
 * @throws {InputError} `out-of-range` for a drop height or load that is not plausible.
 * @throws {InputError} `wrong-shape` for a key stated twice, or one that does not belong to the test.
 */
export function parseProtocol(text: string): Protocol {
  const words = String(text).trim().split(/[\s;]+/);
  const test = words[0].toUpperCase() as Test;
  if (!TESTS.includes(test)) {
    throw new InputError("unknown-name", `a protocol requires one of ${TESTS.join(", ")} first, not “${words[0]}”`);
  }
  const stated: { -readonly [K in keyof Protocol]: Protocol[K] } = { test };
  const seen = new Set<string>();
  for (const word of words.slice(1)) {
    const [key, value] = keyAndValue(word);
    if (seen.has(key)) throw new InputError("wrong-shape", `a protocol requires each part once; ${key} is stated twice`);
    seen.add(key);
    if (key === "drop") stated.dropHeight = numberOf(key, value);
    else if (key === "load") stated.load = numberOf(key, value);
    else if (key === "arms") stated.arms = oneOf(key, value, ["hips", "swing"]);
    else if (key === "limb") stated.limb = oneOf(key, value, ["both", "left", "right"]);
    else throw new InputError("unknown-name", `a protocol requires drop, arms, limb or load, not “${key}”`);
  }
  return checkProtocol(stated);
}

function keyAndValue(word: string): [string, string] {
  const at = word.indexOf("=");
  if (at <= 0) throw new InputError("wrong-shape", `a protocol requires key=value after the test, not “${word}”`);
  return [word.slice(0, at).toLowerCase(), word.slice(at + 1).toLowerCase()];
}

function numberOf(key: string, value: string): number {
  if (!/^(\d+([.,]\d*)?|[.,]\d+)$/.test(value)) {
    throw new InputError("not-a-number", `a protocol requires a number in ${key}=, not “${value}”`);
  }
  return Number(value.replace(",", "."));
}

function oneOf<const W extends string>(key: string, value: string, words: readonly W[]): W {
  const word = words.find((candidate) => candidate === value);
  if (word === undefined) throw new InputError("unknown-name", `a protocol requires ${words.join(" or ")} in ${key}=, not “${value}”`);
  return word;
}
