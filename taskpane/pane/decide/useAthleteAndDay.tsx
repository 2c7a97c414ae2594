import { useMemo, useState, type ReactNode } from "react";
import { dayName } from "../texts.ts";
import { words } from "../words.ts";
import { Choice, kept } from "./parts.tsx";
import type { DecideData } from "./useDecide.ts";

/** Which athlete and which day, newest first, with the two choices to show. */
export function useAthleteAndDay({ live }: DecideData): { readonly athlete: string; readonly day: string; readonly choices: ReactNode } {
  const [chosen, setChosen] = useState<{ athlete?: string; day?: string }>({});
  const athletes = useMemo(() => [...new Set(live.map((trial) => trial.athlete))].sort((a, b) => a.localeCompare(b)), [live]);
  const athlete = kept(chosen.athlete, athletes);
  const days = useMemo(() => [...new Set(live.filter((trial) => trial.athlete === athlete).map((trial) => trial.date))].sort((a, b) => b.localeCompare(a)), [live, athlete]);
  const day = kept(chosen.day, days);
  const choices = (
    <>
      <Choice label={words.decide.athlete} value={athlete} options={athletes.map((each) => [each, each])} onChange={(each) => setChosen({ ...chosen, athlete: each })} />
      <Choice label={words.decide.day} value={day} options={days.map((each) => [each, dayName(each)])} onChange={(each) => setChosen({ ...chosen, day: each })} />
    </>
  );
  return { athlete, day, choices };
}
