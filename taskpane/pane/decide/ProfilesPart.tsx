import { useMemo, type ReactNode } from "react";
import { dropChart, loadChart } from "../../decide/charts.ts";
import { dropProfilesOf, loadProfilesOf, type DropResult, type LoadResult } from "../../decide/profilesOf.ts";
import { CautionList } from "../CautionList.tsx";
import { formatNumber } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { words } from "../words.ts";
import { Chart, ReadingCard, useDecideStyles } from "./parts.tsx";
import { useAthleteAndDay } from "./useAthleteAndDay.tsx";
import type { DecideData } from "./useDecide.ts";

/** Reactive strength over drop heights, and the force-velocity line of loaded jumps, of one athlete and day. */
export function ProfilesPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const { live, settings } = data;
  const { athlete, day, choices } = useAthleteAndDay(data);
  const drops = useMemo(() => dropProfilesOf(live, athlete, day, settings), [live, athlete, day, settings]);
  const loads = useMemo(() => loadProfilesOf(live, athlete, day, settings), [live, athlete, day, settings]);
  return (
    <>
      <div className={styles.choices}>{choices}</div>
      {drops.every((drop) => drop.profile === undefined) && loads.every((load) => load.profile === undefined) && <p>{words.decide.noProfiles}</p>}
      {drops.map((drop) => (
        <DropProfileView key={drop.protocolText} drop={drop} />
      ))}
      {loads.map((load) => (
        <LoadProfileView key={load.protocolText} load={load} />
      ))}
      {drops.some((drop) => drop.profile !== undefined) && <CautionList test="DJ" />}
    </>
  );
}

function DropProfileView({ drop }: { readonly drop: DropResult }): ReactNode {
  const styles = useDecideStyles();
  const { profile, reading, reason, typicalError } = drop;
  const heading = `${words.decide.drop}: ${protocolWords(drop.protocolText)}`;
  const spec = useMemo(() => profile && dropChart(profile, words.decide.axes.dropHeight, words.decide.axes.rsi), [profile]);
  if (profile === undefined || reading === undefined || spec === undefined) return <p>{`${heading}. ${words.decide.unavailable(reason ?? "")}`}</p>;
  const print = (value: number | undefined, decimals: number): string => (value === undefined ? "" : formatNumber(value, decimals));
  return (
    <ReadingCard heading={heading} reading={reading}>
      <Chart spec={spec} label={`${heading}. ${reading.parts[0].text}`} />
      <div className={styles.scroll} tabIndex={0} role="region" aria-label={heading}>
        <table className={styles.table}>
          <thead>
            <tr>
              {[words.decide.box, words.decide.real, words.decide.contact, words.decide.height, words.decide.index, words.decide.gap, words.decide.leastGap, words.decide.trials].map((text) => (
                <th key={text} scope="col">{text}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {profile.points.map((point) => (
              <tr key={point.nominalHeight}>
                <th scope="row">{print(point.nominalHeight, 2)}</th>
                <td>{print(point.measuredHeight, 3)}</td>
                <td>
                  {print(point.contactTime, 3)}
                  {point.fast ? "" : ` (${words.decide.slow})`}
                </td>
                <td>{print(point.height, 3)}</td>
                <td>{print(point.rsi, 2)}</td>
                <td>{print(point.gap, 2)}</td>
                <td>{print(point.leastGap, 2)}</td>
                <td>{words.decide.number(point.count)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {typicalError !== undefined && <p className={styles.quiet}>{words.decide.profileError(formatNumber(typicalError.value, 3), typicalError.degreesOfFreedom)}</p>}
    </ReadingCard>
  );
}

function LoadProfileView({ load }: { readonly load: LoadResult }): ReactNode {
  const styles = useDecideStyles();
  const { profile, reading, reason } = load;
  const heading = `${words.decide.load}: ${protocolWords(load.protocolText)}`;
  const spec = useMemo(() => profile && loadChart(profile, words.decide.axes.velocity, words.decide.axes.force), [profile]);
  if (profile === undefined || reading === undefined || spec === undefined) return <p>{`${heading}. ${words.decide.unavailable(reason ?? "")}`}</p>;
  return (
    <ReadingCard heading={heading} reading={reading}>
      <Chart spec={spec} label={`${heading}. ${reading.parts[0].text}`} />
      <div className={styles.scroll} tabIndex={0} role="region" aria-label={heading}>
        <table className={styles.table}>
          <thead>
            <tr>
              {[words.decide.loads, words.decide.height, words.decide.force, words.decide.velocity].map((text) => (
                <th key={text} scope="col">{text}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {profile.points.map((point) => (
              <tr key={point.load}>
                <th scope="row">{formatNumber(point.load, 1)}</th>
                <td>{formatNumber(point.height, 3)}</td>
                <td>{formatNumber(point.force, 2)}</td>
                <td>{formatNumber(point.velocity, 2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </ReadingCard>
  );
}
