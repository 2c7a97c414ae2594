import { useEffect, useState, type ReactNode } from "react";
import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { unitUnder } from "../../src/catalogue/unitUnder.ts";
import { latestByTrial, recordedRows, type RecordRow } from "../workbook/record.ts";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { formatMoment, formatWorking } from "./format.ts";
import { usePane } from "./PaneContext.tsx";
import { differenceReasons, recordDifferences } from "./recording.ts";
import { Section } from "./SectionHead.tsx";
import { metricName } from "./texts.ts";
import { useUnits } from "./useUnits.tsx";
import { withUnits } from "./withUnits.ts";
import { words } from "./words.ts";

/** Says where the recorded values of a trial are no longer the live ones, and why; nothing where they agree or nothing was recorded. */
export function RecordedDifferences({ trial }: { readonly trial: AnalysedTrial }): ReactNode {
  const { host } = usePane();
  const units = useUnits();
  const [recorded, setRecorded] = useState<RecordRow | undefined>();
  useEffect(() => {
    let current = true;
    void recordedRows(host).then(
      (rows) => current && setRecorded(latestByTrial(rows).find((row) => row.key === trial.row.key)),
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [host, trial]);
  if (recorded === undefined) return null;
  const differences = recordDifferences(trial, recorded);
  const when = formatMoment(recorded.recorded);
  const print = (name: string, value: number | undefined): string => {
    if (value === undefined) return words.trials.noValue;
    const [from, to] = [name, ...withUnits([name], units)].map(resolveMetricName);
    return formatWorking((value / from.factor) * to.factor, unitUnder(to, trial.analysis!.settings));
  };
  if (differences.length === 0) return <p>{words.record.same(when)}</p>;
  return (
    <Section heading={words.record.differs}>
      <p>
        {words.record.since(when)} {differenceReasons(trial, recorded).join(" ")}
      </p>
      <ul>
        {differences.map((difference) => (
          <li key={difference.name}>
            {metricName(difference.name)}: {words.record.was(print(difference.name, difference.recorded), print(difference.name, difference.live))}
          </li>
        ))}
      </ul>
    </Section>
  );
}
