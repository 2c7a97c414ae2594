import type { LoadProfile } from "../../src/sessions/loadProfile.ts";
import type { DropHeightProfile, ProfilePoint } from "../../src/statistics/dropHeightProfile.ts";
import type { ListChartSpec } from "../plots/listChart.ts";
import type { ChartSpec } from "../plots/chart.ts";
import { decimalsFor, formatDate, formatTick } from "../pane/format.ts";
import type { ShownUnit } from "../pane/shownUnits.ts";
import { dateSerial } from "../workbook/addresses.ts";
import type { Squad } from "./squadOf.ts";
import type { Followed } from "./followAthlete.ts";

/** Chart of one person over time: band of each session, protocol changes numbered, doubtful and left-out ones open. */
export function followChart(followed: Followed, yLabel: string, xLabel: string): ChartSpec {
  const at = placesOf([...followed.points.map(({ date }) => date), ...followed.leftOut.map(({ date }) => date)]);
  let changes = 0;
  return {
    xLabel,
    yLabel,
    joined: true,
    ticks: [...new Set(followed.points.map(({ date }) => date))].map((date) => ({ at: at(date), label: formatDate(date) })),
    marks: [
      ...followed.points.map(({ date, value, doubtful }) => ({ x: at(date), y: value, look: doubtful === true ? ("hollow" as const) : ("full" as const), ...(followed.typicalError === undefined ? {} : { half: followed.typicalError.value }) })),
      ...followed.leftOut.map(({ date, value }) => ({ x: at(date), y: value, look: "left out" as const })),
    ],
    bands: followed.points.flatMap(({ date, band }) => (band === undefined ? [] : [{ at: at(date), low: band.low, high: band.high }])),
    changes: followed.points.flatMap(({ date, protocolChange }) => (protocolChange === undefined ? [] : [{ at: at(date), label: String((changes += 1)) }])),
  };
}

/**
 * Index over the drop heights, measured where every one was, else those of the boxes; open where the contact was slow.
 *
 * @param length Unit of the heights.
 */
export function dropChart(profile: DropHeightProfile, { unit, factor }: ShownUnit, xLabel: string, yLabel: string): ChartSpec {
  const measured = profile.points.every((point) => point.measuredHeight !== undefined);
  const heightOf = (point: ProfilePoint): number => (measured ? point.measuredHeight! : point.nominalHeight) * factor;
  return {
    xLabel,
    yLabel,
    joined: true,
    marks: profile.points.map((point) => ({ x: heightOf(point), y: point.rsi, look: point.fast ? ("full" as const) : ("hollow" as const) })),
    ticks: profile.points.map((point) => ({ at: heightOf(point), label: formatTick(Number(heightOf(point).toFixed(decimalsFor(heightOf(point), unit)))) })),
  };
}

/** Force over velocity with its line, drawn over the jumps that were made and no farther. */
export function loadChart({ points, line }: LoadProfile, xLabel: string, yLabel: string): ChartSpec {
  const velocities = points.map(({ velocity }) => velocity);
  const [from, to] = [Math.min(...velocities), Math.max(...velocities)];
  return {
    xLabel,
    yLabel,
    marks: points.map(({ velocity, force }) => ({ x: velocity, y: force })),
    line: [from, line.intercept + line.slope * from, to, line.intercept + line.slope * to],
  };
}

/** The squad in one quantity, best first, with the uncertainty of each session value and the mean. */
export function squadChart({ table, results }: Squad, xLabel: string, meanLabel: string): ListChartSpec {
  const names = table?.rows.map((row) => row.name) ?? [...results.keys()];
  return {
    xLabel,
    rows: names.flatMap((label) => {
      const result = results.get(label);
      return result === undefined ? [] : [{ label, value: result.value, ...(result.u === undefined ? {} : { half: result.u }) }];
    }),
    ...(table === undefined ? {} : { line: { at: table.mean, label: meanLabel } }),
  };
}

/** Days on the axis; sessions without a readable date stand one after the other behind the last day. */
function placesOf(dates: readonly string[]): (date: string) => number {
  const days = dates.map(dateSerial).filter((day): day is number => typeof day === "number");
  const last = days.length === 0 ? 0 : Math.max(...days);
  const others = [...new Set(dates.filter((date) => typeof dateSerial(date) !== "number"))];
  return (date) => {
    const day = dateSerial(date);
    return typeof day === "number" ? day : last + 1 + others.indexOf(date);
  };
}
