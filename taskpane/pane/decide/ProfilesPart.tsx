import { useMemo, type ReactNode } from "react";
import { dropProfilesOf, loadProfilesOf, type DropResult, type LoadResult } from "../../decide/profilesOf.ts";
import { CautionList } from "../CautionList.tsx";
import { decimalsFor, formatNumber } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { shownUnit, type ShownUnit } from "../shownUnits.ts";
import { headOf } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { dropSpec, loadSpec } from "./chartSpecs.ts";
import { Chart, ReadingCard, useDecideStyles } from "./parts.tsx";
import { useAthleteAndDay } from "./useAthleteAndDay.tsx";
import type { DecideData } from "./useDecide.ts";

/** Reactive strength over drop heights, and the force-velocity line of loaded jumps, of one athlete and day. */
export function ProfilesPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const { live, settings } = data;
  const { athlete, day, choices } = useAthleteAndDay(data);
  const drops = useMemo(() => dropProfilesOf(live, athlete, day, settings, units), [live, athlete, day, settings, units]);
  const loads = useMemo(() => loadProfilesOf(live, athlete, day, settings, units), [live, athlete, day, settings, units]);
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
  const units = useUnits();
  const { profile, reading, reason, typicalError } = drop;
  const heading = `${words.decide.drop}: ${protocolWords(drop.protocolText, units)}`;
  const spec = useMemo(() => profile && dropSpec(profile, units), [profile, units]);
  if (profile === undefined || reading === undefined || spec === undefined) return <p>{`${heading}. ${words.decide.unavailable(reason ?? "")}`}</p>;
  const [length, time] = [shownUnit("m", units), shownUnit("s", units)];
  const index = (value: number | undefined): string => (value === undefined ? "" : formatNumber(value, 2));
  return (
    <ReadingCard heading={heading} reading={reading}>
      <Chart spec={spec} label={`${heading}. ${reading.parts[0].text}`} />
      <div className={styles.scroll} tabIndex={0} role="region" aria-label={heading}>
        <table className={styles.table}>
          <thead>
            <tr>
              {[headOf(words.decide.box, length.unit), headOf(words.decide.real, length.unit), headOf(words.decide.contact, time.unit), headOf(words.decide.height, length.unit), words.decide.index, words.decide.gap, words.decide.leastGap, words.decide.trials].map((text) => (
                <th key={text} scope="col">{text}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {profile.points.map((point) => (
              <tr key={point.nominalHeight}>
                <th scope="row">{print(point.nominalHeight, length)}</th>
                <td>{print(point.measuredHeight, length)}</td>
                <td>
                  {print(point.contactTime, time)}
                  {point.fast ? "" : ` (${words.decide.slow})`}
                </td>
                <td>{print(point.height, length)}</td>
                <td>{index(point.rsi)}</td>
                <td>{index(point.gap)}</td>
                <td>{index(point.leastGap)}</td>
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
  const units = useUnits();
  const [mass, length] = [shownUnit("kg", units), shownUnit("m", units)];
  const { profile, reading, reason } = load;
  const heading = `${words.decide.load}: ${protocolWords(load.protocolText, units)}`;
  const spec = useMemo(() => profile && loadSpec(profile), [profile]);
  if (profile === undefined || reading === undefined || spec === undefined) return <p>{`${heading}. ${words.decide.unavailable(reason ?? "")}`}</p>;
  return (
    <ReadingCard heading={heading} reading={reading}>
      <Chart spec={spec} label={`${heading}. ${reading.parts[0].text}`} />
      <div className={styles.scroll} tabIndex={0} role="region" aria-label={heading}>
        <table className={styles.table}>
          <thead>
            <tr>
              {[headOf(words.decide.loads, mass.unit), headOf(words.decide.height, length.unit), headOf(words.decide.force, "N/kg"), headOf(words.decide.velocity, "m/s")].map((text) => (
                <th key={text} scope="col">{text}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {profile.points.map((point) => (
              <tr key={point.load}>
                <th scope="row">{print(point.load, mass)}</th>
                <td>{print(point.height, length)}</td>
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

function print(si: number | undefined, { unit, factor }: ShownUnit): string {
  return si === undefined ? "" : formatNumber(si * factor, decimalsFor(si * factor, unit));
}
