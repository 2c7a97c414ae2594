import type { SettingDefinition, Settings } from "./Settings.ts";
import { InputError } from "../errors.ts";
import { nearestNames } from "../names.ts";
import { SETTINGS } from "./definitions.ts";
import { digestOf } from "./digestOf.ts";

const BY_ID: ReadonlyMap<string, SettingDefinition> = new Map(SETTINGS.map((definition) => [definition.id, definition]));

/**
 * Settings from stated values, the defaults for the rest.
 *
 * Ids and words are read in any case; a number may come as text, with a decimal point or a decimal comma. A 0 that is out of range
 * (a blank cell on the desktop) is refused by name.
 *
 * @param entries Pairs of setting id and value, each in the unit of its definition.
 * @returns Complete settings with their digest.
 * @throws {InputError} `unknown-name` for an id or a word that does not exist.
 * @throws {InputError} `out-of-range` for a number outside the range of its definition.
 * @throws {InputError} `wrong-shape` for an id that is stated twice with different values.
 */
export function settingsFrom(entries: Iterable<readonly [string, string | number]>): Settings {
  const stated = new Map<string, string | number>();
  for (const [name, given] of entries) {
    const id = String(name).trim().toLowerCase();
    const definition = BY_ID.get(id);
    if (definition === undefined) {
      throw new InputError("unknown-name", `settings require a known id, not “${id}”; nearest: ${nearestNames(id, [...BY_ID.keys()]).join(", ")}`);
    }
    const value = valueOf(definition, given);
    if (stated.has(id) && stated.get(id) !== value) {
      throw new InputError("wrong-shape", `settings require each id once; ${id} is stated twice`);
    }
    stated.set(id, value);
  }
  const values: Record<string, string | number> = {};
  for (const definition of SETTINGS) values[definition.id] = stated.get(definition.id) ?? definition.default;
  return Object.freeze({ values: Object.freeze(values), digest: digestOf(canonicalText(values)) });
}

function valueOf(definition: SettingDefinition, given: string | number): string | number {
  const text = String(given).trim();
  const word = definition.options?.find((option) => option.toLowerCase() === text.toLowerCase());
  if (word !== undefined) return word;
  if (definition.range !== undefined) {
    const number = typeof given === "number" ? given : numberFrom(text);
    if (number !== undefined) {
      const [least, most] = definition.range;
      if (Number.isFinite(number) && number >= least && number <= most && number !== 0) return number;
      throw new InputError("out-of-range", `${definition.id} requires ${allowed(definition)}, not ${text}${number === 0 ? " (a blank cell reads as 0)" : ""}`);
    }
  }
  throw new InputError("unknown-name", `${definition.id} requires ${allowed(definition)}, not ${text === "" ? "a blank" : `“${text}”`}`);
}

/** A number typed by a person: decimal point or comma, no thousands mark. */
function numberFrom(text: string): number | undefined {
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text.replace(",", ".")) : undefined;
}

function allowed(definition: SettingDefinition): string {
  const parts: string[] = [];
  if (definition.range !== undefined) {
    const unit = definition.unit === undefined ? "" : ` ${definition.unit}`;
    parts.push(`a number from ${definition.range[0]} to ${definition.range[1]}${unit}`);
  }
  for (const option of definition.options ?? []) parts.push(`“${option}”`);
  return parts.length === 1 ? parts[0] : `${parts.slice(0, -1).join(", ")} or ${parts[parts.length - 1]}`;
}

/** `id=value` in alphabetical order: what the digest is taken over. */
function canonicalText(values: Readonly<Record<string, string | number>>): string {
  return Object.keys(values)
    .sort()
    .map((id) => `${id}=${values[id]}`)
    .join("\n");
}
