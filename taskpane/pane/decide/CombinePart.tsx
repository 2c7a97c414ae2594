import { useMemo, type ReactNode } from "react";
import { combineAthlete } from "../../decide/combineAthlete.ts";
import { dayFindings } from "../../decide/dayFindings.ts";
import { formatNumber, decimalsFor } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { Section } from "../SectionHead.tsx";
import { inUnits, shownUnit } from "../shownUnits.ts";
import { headOf, metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { combinationTitle } from "./headings.ts";
import { ReadingCard, useDecideStyles } from "./parts.tsx";
import { useAthleteAndDay } from "./useAthleteAndDay.tsx";
import type { DecideData } from "./useDecide.ts";

/** The tests of one athlete on one day, combined: components first. */
export function CombinePart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const units = useUnits();
  const { athlete, day, choices } = useAthleteAndDay(data);
  const combinations = useMemo(() => combineAthlete(data.live, athlete, day, data.settings, units), [data, athlete, day, units]);
  const findings = useMemo(() => dayFindings(data.live, athlete, day, data.settings), [data, athlete, day]);
  return (
    <>
      <div className={styles.choices}>{choices}</div>
      {combinations.length === 0 && <p>{words.decide.nothingToCombine}</p>}
      {combinations.map(({ kind, name, unit: si, results, combined, reading, reason, without }) => {
        const heading = combinationTitle(kind, name, combined?.basis);
        const key = `${kind} ${name} ${combined?.basis ?? ""} ${results.map((result) => result.session.protocolText).join("/")}`;
        if (reading === undefined) {
          return (
            <article key={key} className={styles.card} aria-label={heading}>
              <h2 className={styles.cardTitle}>{heading}</h2>
              <p>{words.decide.refused(without === undefined ? (reason ?? "") : words.decide.withoutTrial(protocolWords(without, units)))}</p>
            </article>
          );
        }
        return (
          <ReadingCard key={key} heading={heading} reading={reading}>
            <div className={styles.scroll} tabIndex={0} role="region" aria-label={heading}>
              <table className={styles.table}>
                <thead>
                  <tr>
                    <th scope="col">{words.decide.protocol}</th>
                    <th scope="col" className={styles.number}>{headOf(metricName(name), shownUnit(si, units).unit)}</th>
                    <th scope="col" className={styles.number}>{words.decide.uncertainty}</th>
                    <th scope="col">{words.decide.trials}</th>
                  </tr>
                </thead>
                <tbody>
                  {results.map((result) => {
                    const { value, unit, u } = inUnits({ value: result.value, unit: si, u: result.u }, units);
                    const decimals = decimalsFor(value, unit, u);
                    return (
                      <tr key={result.session.protocolText}>
                        <th scope="row">{protocolWords(result.session.protocolText, units)}</th>
                        <td className={styles.number}>{formatNumber(value, decimals)}</td>
                        <td className={styles.number}>{u === undefined ? "" : formatNumber(u, decimals)}</td>
                        <td>
                          {words.decide.number(result.n)}
                          {result.doubtful > 0 ? `; ${words.decide.doubtfulCount(result.doubtful)}` : ""}
                        </td>
                      </tr>
                    );
                  })}
                </tbody>
              </table>
            </div>
          </ReadingCard>
        );
      })}
      <Section heading={words.decide.findings}>
        {findings.length === 0 ? (
          <p>{words.decide.noFindings}</p>
        ) : (
          <ul>
            {findings.map((finding) => (
              <li key={`${finding.protocolText} ${finding.rule} ${finding.trial ?? ""}`}>{words.decide.findingOf(protocolWords(finding.protocolText, units), metricName(finding.name), finding.trial === undefined ? "" : String(finding.trial), finding.sentence)}</li>
            ))}
          </ul>
        )}
      </Section>
    </>
  );
}
