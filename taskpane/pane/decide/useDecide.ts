import { useEffect, useMemo, useState } from "react";
import type { Settings } from "../../../src/settings/Settings.ts";
import { liveTrials, recordedTrials, type DecideTrial } from "../../decide/DecideTrial.ts";
import { latestByTrial, recordedRows } from "../../workbook/record.ts";
import { sentenceOf, usePane } from "../PaneContext.tsx";
import { useUnits } from "../useUnits.tsx";
import { withUnits } from "../withUnits.ts";
import { useTrials } from "../useTrials.ts";

/** What decisions are made of; `undefined` until it was read. */
export interface DecideData {
  readonly live: readonly DecideTrial[];
  readonly recorded: readonly DecideTrial[];
  readonly settings: Settings;
  /** Names in the head of Results, all in the units that are chosen. */
  readonly head: readonly string[];
  /** Squad of each athlete, where the Athletes table says one. */
  readonly squads: ReadonlyMap<string, string>;
}

/** Live and recorded trials with the settings, read again at every change of the workbook. */
export function useDecide(): { readonly data?: DecideData; readonly problem?: string } {
  const { host, workbook } = usePane();
  const units = useUnits();
  const state = useTrials();
  const [rest, setRest] = useState<Omit<DecideData, "live"> | undefined>();
  const [problem, setProblem] = useState<string | undefined>();
  const analysed = state.trials;

  useEffect(() => {
    let current = true;
    // Follows the trials: they are read again at every change of the workbook, and so is the rest.
    void Promise.all([recordedRows(host), workbook.settings(), workbook.resultNames(), workbook.athletes()]).then(
      ([rows, settings, head, athletes]) => {
        if (!current) return;
        setProblem(undefined);
        setRest({ recorded: recordedTrials(latestByTrial(rows)), settings, head: withUnits(head, units), squads: new Map(athletes.flatMap(({ name, squad }) => (squad === undefined ? [] : [[name, squad] as const]))) });
      },
      (thrown: unknown) => current && setProblem(sentenceOf(thrown)),
    );
    return () => {
      current = false;
    };
  }, [host, workbook, analysed, units]);

  const live = useMemo(() => (analysed === undefined ? undefined : liveTrials(analysed)), [analysed]);
  const data = useMemo(() => (live === undefined || rest === undefined ? undefined : { live, ...rest }), [live, rest]);
  const said = problem ?? state.problem;
  return { ...(data === undefined ? {} : { data }), ...(said === undefined ? {} : { problem: said }) };
}
