import { rowsFrom } from "./cells.ts";
import { settingsFromArgument } from "./settingsFromArgument.ts";

/**
 * An argument that may be the Settings range instead of a word or a number: then the value of one setting.
 *
 * @param value What arrived. @param id Setting that the range is asked for.
 * @returns The value of the setting, or what arrived.
 */
export function orSetting(value: unknown, id: string): unknown {
  const range = rowsFrom(value).some((row) => row.length > 1 && String(row[0]).trim().toLowerCase() === id);
  return range ? settingsFromArgument(value).values[id] : value;
}
