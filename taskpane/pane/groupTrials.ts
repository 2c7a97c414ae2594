import type { AnalysedTrial } from "./analyseTrial.ts";

export type TrialFilter = "all" | "doubtful" | "left out";

export interface TrialGroup {
  readonly athlete: string;
  /** Trials of one protocol on one date, in sheet order. */
  readonly sets: readonly { readonly protocol: string; readonly date: string; readonly trials: readonly AnalysedTrial[] }[];
}

/** Trials by athlete, then by date (newest first) and protocol; athletes in alphabetical order. */
export function groupTrials(trials: readonly AnalysedTrial[], filter: TrialFilter, search: string): readonly TrialGroup[] {
  const wanted = search.trim().toLocaleLowerCase();
  const athletes = new Map<string, Map<string, AnalysedTrial[]>>();
  for (const trial of trials) {
    if (wanted !== "" && !trial.row.athlete.toLocaleLowerCase().includes(wanted)) continue;
    if (filter === "doubtful" && trial.verdict === "keep") continue;
    if (filter === "left out" && trial.use !== "leave out") continue;
    const sets = athletes.get(trial.row.athlete) ?? new Map<string, AnalysedTrial[]>();
    athletes.set(trial.row.athlete, sets);
    const set = `${trial.row.date}\u0001${trial.row.protocol}`;
    sets.set(set, [...(sets.get(set) ?? []), trial]);
  }
  return [...athletes]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([athlete, sets]) => ({
      athlete,
      sets: [...sets]
        .map(([name, list]) => ({ date: name.split("\u0001")[0], protocol: name.split("\u0001")[1], trials: list }))
        .sort((a, b) => b.date.localeCompare(a.date) || a.protocol.localeCompare(b.protocol)),
    }));
}
