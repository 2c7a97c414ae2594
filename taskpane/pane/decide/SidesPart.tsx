import { useMemo, useState, type ReactNode } from "react";
import { sessionsOf } from "../../decide/sessions.ts";
import { sideMetrics, sidesOfAthlete } from "../../decide/sidesOfAthlete.ts";
import { reportNames } from "../../decide/reportOf.ts";
import { decimalsFor, formatNumber, formatValue } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { dayName, headOf, metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { Choice, kept, ReadingCard, useDecideStyles } from "./parts.tsx";
import { useAthleteAndDay } from "./useAthleteAndDay.tsx";
import type { DecideData } from "./useDecide.ts";

/** Left against right of one athlete and day, against what trials differ among themselves, and the side over the sessions. */
export function SidesPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const { live, settings, head } = data;
  const { athlete, day, choices } = useAthleteAndDay(data);
  const [chosen, setChosen] = useState<{ protocol?: string; name?: string }>({});
  const sessions = useMemo(() => sessionsOf(live).filter((session) => session.athlete === athlete && session.date === day && session.protocol.limb !== "right"), [live, athlete, day]);
  const protocols = sessions.map((session) => session.protocolText);
  const protocol = kept(chosen.protocol, protocols);
  const session = sessions.find((each) => each.protocolText === protocol);
  const names = session === undefined ? [] : session.protocol.limb === "left" ? reportNames(head).filter((each) => session.trials.some((trial) => trial.value(each) !== undefined)) : sideMetrics(session.protocol.test);
  const name = kept(chosen.name, names);
  const all = useMemo(() => (name === "" ? [] : sidesOfAthlete(live, athlete, protocol, name, settings)), [live, athlete, protocol, name, settings]);
  const sides = all.find((each) => each.date === day);
  return (
    <>
      <div className={styles.choices}>
        {choices}
        <Choice label={words.decide.test} value={protocol} options={protocols.map((each) => [each, protocolWords(each, units)])} onChange={(each) => setChosen({ ...chosen, protocol: each })} />
        <Choice label={words.decide.metric} value={name} options={names.map((each) => [each, metricName(each)])} onChange={(each) => setChosen({ ...chosen, name: each })} />
      </div>
      {sides === undefined && <p>{words.decide.noSides}</p>}
      {sides !== undefined && (
        <>
          <div className={styles.scroll} tabIndex={0} role="region" aria-label={metricName(name)}>
            <table className={styles.table}>
              <caption>{headOf(metricName(name), sides.unit)}</caption>
              <thead>
                <tr>
                  <th scope="col">{words.decide.trial}</th>
                  <th scope="col" className={styles.number}>{`◀ ${words.decide.left}`}</th>
                  <th scope="col" className={styles.number}>{`${words.decide.right} ▶`}</th>
                </tr>
              </thead>
              <tbody>
                {Array.from({ length: Math.max(sides.left.length, sides.right.length) }, (_, at) => (
                  <tr key={at}>
                    <th scope="row">{at + 1}</th>
                    {[sides.left[at], sides.right[at]].map((value, side) => (
                      <td key={side} className={styles.number}>
                        {value === undefined ? "" : formatNumber(value, decimalsFor(value, sides.unit))}
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          {sides.reading !== undefined && <ReadingCard heading={words.decide.readings.sides} reading={sides.reading} />}
          {sides.reason !== undefined && (
            <p>
              {`${sides.formula} ${formatValue(sides.percentage, "%")}. `}
              {words.decide.noVerdict(sides.reason)}
            </p>
          )}
          <h2 className={styles.cardTitle}>{words.decide.history}</h2>
          <ul>
            {sides.history.map((entry) => (
              <li key={entry.date}>{`${dayName(entry.date)}: ${sides.formula} ${formatValue(entry.percentage, "%")}, ${words.decide.higher[entry.side]}`}</li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
