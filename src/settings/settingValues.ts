import type { Settings } from "./Settings.ts";

/**
 * A setting as a number; a word such as "none" counts as `otherwise`.
 *
 * @param settings Complete settings. @param id Id of the setting. @param otherwise Number that a word stands for.
 * @returns The number, in the unit of the setting.
 */
export function settingNumber(settings: Settings, id: string, otherwise = 0): number {
  const value = settings.values[id];
  return typeof value === "number" ? value : otherwise;
}

/** A setting as a word; a number gives an empty text. */
export function settingWord(settings: Settings, id: string): string {
  const value = settings.values[id];
  return typeof value === "string" ? value : "";
}
