import type { EventName, FindingAction, Phase } from "../../src/protocols/Analysis.ts";
import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { eventName } from "../../src/wording/eventName.ts";
import { phaseName } from "../../src/wording/phaseName.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { PlotNames } from "../plots/plotDataOf.ts";
import type { PlotAxes } from "../plots/tracePlot.ts";
import { formatDate, prettyUnit } from "./format.ts";
import { shownUnit } from "./shownUnits.ts";
import type { UnitChoice } from "./withUnits.ts";
import { words } from "./words.ts";

/** Names on a plot, in the words of the catalogue. */
export const PLOT_NAMES: PlotNames = {
  event: (name) => eventName(name as EventName),
  phase: (name) => phaseName(name as Phase["name"]),
  series: (quantity, side) => (side === "left" || side === "right" ? `${words.plot.quantities[quantity]}, ${words.sides[side].toLocaleLowerCase()}` : words.plot.quantities[quantity]),
};

/** The axes of a plot in the units that are chosen. */
export function plotAxes(units: UnitChoice): PlotAxes {
  const axis = (name: string, si: string): PlotAxes["time"] => {
    const { unit, factor } = shownUnit(si, units);
    return { label: headOf(name, unit), unit, factor };
  };
  const { force, velocity, displacement, power } = words.plot.quantities;
  return { time: axis(words.plot.time, "s"), force: axis(force, "N"), velocity: axis(velocity, "m/s"), displacement: axis(displacement, "m"), power: axis(power, "W") };
}

/** A head or an axis with the unit of its numbers. */
export function headOf(what: string, unit: string): string {
  return unit === "" ? what : words.withUnit(what, prettyUnit(unit));
}

/** A day as it is written here; words where there is none. */
export function dayName(date: string): string {
  return date === "" ? words.record.noDate : formatDate(date);
}

/** A metric in words, with its side and form: "Peak force, left, per kilogram"; the name itself where it is no metric. */
export function metricName(name: string): string {
  try {
    const { base, side, relative, net, asymmetry } = resolveMetricName(name);
    const forms = [side === "Left" ? words.forms.left : side === "Right" ? words.forms.right : "", net ? words.forms.net : "", relative ? words.forms.relative : "", asymmetry ? words.forms.asymmetry : ""];
    return [inLanguage(base.name), ...forms.filter((form) => form !== "")].join(", ");
  } catch {
    return name;
  }
}

export function actionName(action: FindingAction): string {
  return pageTextsOf().actions[action];
}
