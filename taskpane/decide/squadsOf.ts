import type { Settings } from "../../src/settings/Settings.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { reportNames } from "./reportOf.ts";
import { sessionsOf } from "./sessions.ts";
import { squadOf, type Squad } from "./squadOf.ts";

/** The squad in the first number of each protocol: what its report shows. */
export function squadsOf(trials: readonly DecideTrial[], head: readonly string[], settings: Settings): readonly Squad[] {
  const names = reportNames(head);
  return [...new Set(sessionsOf(trials).map((session) => session.protocolText))].sort().flatMap((protocolText) => {
    for (const name of protocolText.startsWith("DJ") || protocolText.startsWith("RH") ? preferred(names) : names) {
      const squad = squadOf(trials, protocolText, name, settings);
      if (squad.results.size > 0) return [squad];
    }
    return [];
  });
}

/** Reactive strength first, where the head has it: the headline of contacts. */
function preferred(names: readonly string[]): readonly string[] {
  const first = names.filter((name) => /rsi$/i.test(name.split(" ")[0]));
  return [...first, ...names.filter((name) => !first.includes(name))];
}
