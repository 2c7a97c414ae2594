import type { Settings } from "./Settings.ts";
import { settingsFrom } from "./settingsFrom.ts";

/** The defaults of every definition. */
export const DEFAULT_SETTINGS: Settings = settingsFrom([]);
