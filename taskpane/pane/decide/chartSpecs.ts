import type { LoadProfile } from "../../../src/sessions/loadProfile.ts";
import type { DropHeightProfile } from "../../../src/statistics/dropHeightProfile.ts";
import { dropChart, followChart, loadChart, squadChart } from "../../decide/charts.ts";
import type { Followed } from "../../decide/followAthlete.ts";
import type { Squad } from "../../decide/squadOf.ts";
import type { ChartSpec } from "../../plots/chart.ts";
import type { ListChartSpec } from "../../plots/listChart.ts";
import { protocolWords } from "../protocolWords.ts";
import { shownUnit } from "../shownUnits.ts";
import { headOf, metricName } from "../texts.ts";
import type { UnitChoice } from "../withUnits.ts";
import { words } from "../words.ts";

/** The charts of Decide with their axes in words and units, for the pane and for paper. */

export function followSpec(followed: Followed): ChartSpec {
  return followChart(followed, headOf(metricName(followed.name), followed.unit), words.decide.axes.date);
}

export function dropSpec(profile: DropHeightProfile, units: UnitChoice): ChartSpec {
  const length = shownUnit("m", units);
  return dropChart(profile, length, headOf(words.decide.axes.dropHeight, length.unit), words.decide.axes.rsi);
}

export function loadSpec(profile: LoadProfile): ChartSpec {
  return loadChart(profile, headOf(words.decide.axes.velocity, "m/s"), headOf(words.decide.axes.force, "N/kg"));
}

export function squadSpec(squad: Squad, units: UnitChoice): ListChartSpec {
  return squadChart(squad, `${headOf(metricName(squad.name), squad.unit)} \u00b7 ${protocolWords(squad.protocolText, units)}`, words.decide.mean);
}
