import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { findingSentence } from "../../src/wording/findingSentence.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { sessionResult, sessionsOf, typicalErrorsOf } from "./sessions.ts";

/** What the rules that compare trials say of one session and metric. */
export interface DayFinding {
  readonly protocolText: string;
  readonly name: string;
  readonly rule: string;
  readonly action: string;
  /** Number of the valid trial it is about, from one; absent for the whole session. */
  readonly trial?: number;
  readonly sentence: string;
}

/** The number of each test whose trials are compared. */
const COMPARED = { CMJ: "jumpHeight", SJ: "jumpHeight", DJ: "rsi", RH: "bestFiveRsi", IMTP: "peakForce" } as const;

/** Findings of the rules that compare the trials of one athlete and day (Q20, Q25). They ask for a look and leave nothing out. */
export function dayFindings(trials: readonly DecideTrial[], athlete: string, date: string, settings: Settings): readonly DayFinding[] {
  return sessionsOf(trials)
    .filter((session) => session.athlete === athlete && session.date === date)
    .flatMap((session) => {
      const name = resolveMetricName(COMPARED[session.protocol.test]).id;
      const result = sessionResult(session, name, settings, typicalErrorsOf(trials, name, session.protocolText, settings));
      return (result?.findings ?? []).map((finding): DayFinding => ({
        protocolText: session.protocolText,
        name,
        rule: finding.rule,
        action: finding.action,
        ...(finding.trial === undefined ? {} : { trial: finding.trial + 1 }),
        sentence: findingSentence(finding.rule, finding.values),
      }));
    });
}
