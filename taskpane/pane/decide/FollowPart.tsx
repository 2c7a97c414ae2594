import { useMemo, useState, type ReactNode } from "react";
import { Button } from "@fluentui/react-components";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import type { DecideTrial } from "../../decide/DecideTrial.ts";
import { followAthlete, seriesOf, seriesText, type Followed, type FollowedSession } from "../../decide/followAthlete.ts";
import { reportNames } from "../../decide/reportOf.ts";
import { sessionsOf } from "../../decide/sessions.ts";
import { chartPicture } from "../../plots/chart.ts";
import { placePicture } from "../../workbook/placePicture.ts";
import { formatValue } from "../format.ts";
import { usePane } from "../PaneContext.tsx";
import { protocolWords } from "../protocolWords.ts";
import { dayName, headOf, metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { followSpec } from "./chartSpecs.ts";
import { Chart, Choice, kept, ReadingCard, useDecideStyles } from "./parts.tsx";
import type { DecideData } from "./useDecide.ts";

/** Names of metrics that a series holds, in the order of the head of Results, then whatever else was recorded. */
function recordedNames(trials: readonly DecideTrial[], names: readonly string[]): readonly string[] {
  return names.filter((name) => trials.some((trial) => trial.value(name) !== undefined));
}

/** One person, one metric over time. */
export function FollowPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const { host, perform, go } = usePane();
  const units = useUnits();
  const [chosen, setChosen] = useState<{ athlete?: string; series?: string; name?: string }>({});
  const { recorded, settings, head } = data;
  const athletes = useMemo(() => [...new Set(recorded.map((trial) => trial.athlete))].sort((a, b) => a.localeCompare(b)), [recorded]);
  const athlete = kept(chosen.athlete, athletes);
  const own = useMemo(() => recorded.filter((trial) => trial.athlete === athlete), [recorded, athlete]);
  const all = useMemo(() => new Map(sessionsOf(own).map((session) => [seriesText(seriesOf(session.protocol)), seriesOf(session.protocol)])), [own]);
  const series = kept(chosen.series, [...all.keys()]);
  const names = useMemo(() => recordedNames(own.filter((trial) => seriesText(seriesOf(trial.protocol)) === series), reportNames(head)), [own, series, head]);
  const name = kept(chosen.name, names);
  const followed = useMemo(() => {
    const of = all.get(series);
    return of === undefined || name === "" ? undefined : followAthlete(recorded, athlete, of, name, metricName(name), settings);
  }, [recorded, athlete, all, series, name, settings]);
  const spec = useMemo(() => followed && followSpec(followed), [followed]);

  if (athletes.length === 0) {
    return (
      <>
        <p>{words.decide.nothingRecorded}</p>
        <Button appearance="primary" onClick={() => go("trials")}>
          {words.decide.toTrials}
        </Button>
      </>
    );
  }
  const place = async (): Promise<void> => {
    if (spec === undefined || followed === undefined) return;
    const selected = await host.selection();
    const sheet = selected?.sheet ?? (await host.sheets())[0];
    await perform(
      () => placePicture(host, { dataUrl: chartPicture(spec, 560, 300), width: 560, height: 300, altText: textOf(followed) }, { sheet, row: selected?.row ?? 0, column: selected?.column ?? 0 }, words.decide.placeInSheet),
      words.decide.placed(sheet),
    );
  };
  return (
    <>
      <div className={styles.choices}>
        <Choice label={words.decide.athlete} value={athlete} options={athletes.map((each) => [each, each])} onChange={(each) => setChosen({ ...chosen, athlete: each })} />
        <Choice label={words.decide.test} value={series} options={[...all.keys()].map((each) => [each, protocolWords(each, units)])} onChange={(each) => setChosen({ ...chosen, series: each })} />
        <Choice label={words.decide.metric} value={name} options={names.map((each) => [each, headOf(metricName(each), resolveMetricName(each).unit)])} onChange={(each) => setChosen({ ...chosen, name: each })} />
      </div>
      {followed !== undefined && spec !== undefined && followed.points.length > 0 && (
        <>
          <Chart spec={spec} label={textOf(followed)} />
          <div className={styles.row}>
            <Button size="small" onClick={() => void place()}>
              {words.decide.placeInSheet}
            </Button>
          </div>
          <FollowNotes followed={followed} />
          {followed.baseline !== undefined && <ReadingCard heading={words.decide.readings.baseline} reading={followed.baseline} />}
          {followed.change !== undefined && <ReadingCard heading={words.decide.readings.change} reading={followed.change} />}
          <FollowTable followed={followed} />
        </>
      )}
    </>
  );
}

function FollowNotes({ followed }: { readonly followed: Followed }): ReactNode {
  const styles = useDecideStyles();
  const { points, leftOut, unit, typicalError, bandFrom, smallestWorthwhile } = followed;
  const changes = points.filter((point) => point.protocolChange !== undefined);
  const print = (value: number): string => formatValue(value, unit);
  return (
    <div className={styles.quiet}>
      {changes.map((point, order) => (
        <p key={point.date + point.protocolText}>{words.decide.change(order + 1, dayName(point.date), point.protocolChange!)}</p>
      ))}
      {leftOut.length > 0 && <p>{words.decide.leftOut(leftOut.length)}</p>}
      <p>
        {bandFrom === "typicalError" && typicalError !== undefined ? words.decide.bandFromError(print(typicalError.value), print(typicalError.low), print(typicalError.high), typicalError.people) : words.decide.bandFromOwn}{" "}
        {typicalError !== undefined && `${words.decide.errorBars} `}
        {smallestWorthwhile !== undefined && words.decide.worthwhile(print(smallestWorthwhile))}
      </p>
    </div>
  );
}

function FollowTable({ followed }: { readonly followed: Followed }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const print = (value: number | undefined): string => (value === undefined ? "" : formatValue(value, followed.unit));
  return (
    <div className={styles.scroll} tabIndex={0} role="region" aria-label={words.decide.chart(metricName(followed.name), followed.athlete)}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{words.decide.date}</th>
            <th scope="col">{words.decide.value}</th>
            <th scope="col">{words.decide.trials}</th>
            <th scope="col">{words.decide.band}</th>
            <th scope="col">{words.decide.weighted}</th>
            <th scope="col">{words.decide.protocol}</th>
          </tr>
        </thead>
        <tbody>
          {followed.points.map((point) => (
            <tr key={point.date + point.protocolText}>
              <th scope="row">{dayName(point.date)}</th>
              <td>
                {print(point.value)}
                {point.doubtful === true ? ` (${words.decide.doubtful})` : ""}
              </td>
              <td>{point.short ? words.decide.short(point.n) : words.decide.number(point.n)}</td>
              <td>
                {point.band === undefined ? words.decide.noBand : `${print(point.band.low)} – ${print(point.band.high)}`} {placeOf(point)}
              </td>
              <td>{print(point.weighted)}</td>
              <td>{protocolWords(point.protocolText, units)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function placeOf(point: FollowedSession): string {
  return point.place === undefined ? "" : words.decide.place[point.place];
}

/** The chart in words. */
export function textOf(followed: Followed): string {
  const lines = followed.points.map((point) => words.decide.chartPoint(dayName(point.date), formatValue(point.value, followed.unit), placeOf(point)));
  return `${words.decide.chart(metricName(followed.name), followed.athlete)}. ${lines.join("; ")}.`;
}
