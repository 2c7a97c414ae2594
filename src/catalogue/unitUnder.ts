import type { ResolvedMetric } from "./resolveMetricName.ts";
import type { Settings } from "../settings/Settings.ts";

/** Reactive strength has no unit where the flight time stands in place of the height. */
const REACTIVE: ReadonlySet<string> = new Set(["rsi", "bestFiveRsi", "lastFiveRsi", "meanHopRsi"]);

/**
 * Unit of a metric as printed, under the settings: that of its name, but for reactive strength by flight time, which has none.
 *
 * @param name The metric and its form, with or without a unit.
 * @param settings Settings, each in the unit of its definition.
 * @returns Unit, empty for none.
 */
export function unitUnder(name: ResolvedMetric, settings: Settings): string {
  return REACTIVE.has(name.base.id) && settings.values["rsi-basis"] === "flight" ? "" : name.unit;
}
