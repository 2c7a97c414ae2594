import { useMemo, useState, type ReactNode } from "react";
import { reportNames } from "../../decide/reportOf.ts";
import { sessionsOf } from "../../decide/sessions.ts";
import { squadOf, type Squad } from "../../decide/squadOf.ts";
import { decimalsFor, formatNumber, formatValue } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { dayName, headOf, metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { Choice, kept, useDecideStyles } from "./parts.tsx";
import type { DecideData } from "./useDecide.ts";

/** The squad in one metric: n stated, places only as far as the typical error allows. */
export function SquadPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const { live, settings, head, squads } = data;
  const [chosen, setChosen] = useState<{ squad?: string; protocol?: string; name?: string }>({});
  const groups = useMemo(() => ["", ...new Set(squads.values())], [squads]);
  const group = kept(chosen.squad, groups);
  const trials = useMemo(() => (group === "" ? live : live.filter((trial) => squads.get(trial.athlete) === group)), [live, squads, group]);
  const protocols = useMemo(() => [...new Set(sessionsOf(trials).map((session) => session.protocolText))].sort(), [trials]);
  const protocol = kept(chosen.protocol, protocols);
  const names = useMemo(() => reportNames(head).filter((each) => sessionsOf(trials).some((session) => session.protocolText === protocol && session.trials.some((trial) => trial.value(each) !== undefined))), [trials, head, protocol]);
  const name = kept(chosen.name, names);
  const squad = useMemo(() => (name === "" ? undefined : squadOf(trials, protocol, name, settings)), [trials, protocol, name, settings]);
  return (
    <>
      <div className={styles.choices}>
        {groups.length > 2 && <Choice label={words.decide.squadReport} value={group} options={groups.map((each) => [each, each === "" ? words.settings.allTests : each])} onChange={(each) => setChosen({ ...chosen, squad: each })} />}
        <Choice label={words.decide.test} value={protocol} options={protocols.map((each) => [each, protocolWords(each, units)])} onChange={(each) => setChosen({ ...chosen, protocol: each })} />
        <Choice label={words.decide.metric} value={name} options={names.map((each) => [each, metricName(each)])} onChange={(each) => setChosen({ ...chosen, name: each })} />
      </div>
      {squad !== undefined && <SquadTableView squad={squad} />}
    </>
  );
}

/** A squad as a table with what it rests on. */
export function SquadTableView({ squad }: { readonly squad: Squad }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const { table, name, unit, protocolText, results, reason, errorFrom } = squad;
  const rows = table?.rows ?? [...results].map(([athlete, result]) => ({ name: athlete, value: result.value, tScore: undefined, placeFrom: undefined, placeTo: undefined }));
  const print = (value: number): string => formatValue(value, unit);
  return (
    <>
      <div className={styles.scroll} tabIndex={0} role="region" aria-label={metricName(name)}>
        <table className={styles.table}>
          <caption>{words.decide.squadCaption(metricName(name), protocolWords(protocolText, units), rows.length)}</caption>
          <thead>
            <tr>
              <th scope="col">{words.decide.places}</th>
              <th scope="col">{words.decide.athlete}</th>
              <th scope="col" className={styles.number}>{headOf(words.decide.value, unit)}</th>
              <th scope="col" className={styles.number}>{words.decide.uncertainty}</th>
              <th scope="col">{words.decide.trials}</th>
              <th scope="col">{words.decide.date}</th>
              <th scope="col" className={styles.number}>{words.decide.tScore}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => {
              const result = results.get(row.name);
              const decimals = decimalsFor(row.value, unit, result?.u);
              return (
                <tr key={row.name}>
                  <td>{row.placeFrom === undefined ? "" : row.placeFrom === row.placeTo ? row.placeFrom : `${row.placeFrom}–${row.placeTo}`}</td>
                  <th scope="row">{row.name}</th>
                  <td className={styles.number}>{formatNumber(row.value, decimals)}</td>
                  <td className={styles.number}>{result?.u === undefined ? "" : formatNumber(result.u, decimals)}</td>
                  <td>{result === undefined ? "" : words.decide.number(result.n)}</td>
                  <td>{result && dayName(result.session.date)}</td>
                  <td className={styles.number}>{row.tScore === undefined ? "" : formatNumber(row.tScore, 0)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <div className={styles.quiet}>
        {reason !== undefined && <p>{words.decide.unavailable(reason)}</p>}
        {table !== undefined && (
          <>
            <p>{words.decide.squadMean(print(table.mean), print(table.sd))}</p>
            <p>{table.margin === undefined ? words.decide.noPlaces : errorFrom === "between days" ? words.decide.placesBetween(print(table.margin)) : words.decide.placesWithin(print(table.margin))}</p>
            {table.missing.length > 0 && <p>{words.decide.squadMissing(table.missing.join(", "))}</p>}
          </>
        )}
      </div>
    </>
  );
}
