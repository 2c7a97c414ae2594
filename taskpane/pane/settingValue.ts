import type { SettingDefinition } from "../../src/settings/Settings.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { prettyUnit } from "./format.ts";
import { words } from "./words.ts";

/** What was typed for a setting as its value: one of its words, or a number within its range; `undefined` for anything else. */
export function settingValueFrom(definition: SettingDefinition, typed: string): string | number | undefined {
  const text = typed.trim();
  const word = definition.options?.find((option) => [option, inLanguage(option)].some((said) => said.toLocaleLowerCase() === text.toLocaleLowerCase()));
  if (word !== undefined) return word;
  if (definition.range === undefined || text === "") return undefined;
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) && value >= definition.range[0] && value <= definition.range[1] ? value : undefined;
}

/** What a setting takes, in words. */
export function settingRule(definition: SettingDefinition): string {
  const unit = definition.unit === undefined ? "" : prettyUnit(inLanguage(definition.unit));
  const range = definition.range === undefined ? "" : words.settings.between(String(definition.range[0]), String(definition.range[1]), unit);
  const options = definition.options?.map((option) => inLanguage(option)).join(", ") ?? "";
  const rule = range === "" ? words.settings.oneOf(options) : options === "" ? range : `${range} ${words.settings.orWord(options)}`;
  return rule.charAt(0).toLocaleLowerCase() + rule.slice(1);
}
