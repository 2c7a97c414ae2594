import { METRICS } from "../../src/catalogue/metrics.ts";
import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { InputError } from "../../src/errors.ts";
import { asymmetry, asymmetryFormulaByName } from "../../src/metrics/asymmetry.ts";
import type { Test } from "../../src/protocols/Protocol.ts";
import { sideHistory } from "../../src/sessions/sideHistory.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { asymmetryVerdict, type AsymmetryVerdict } from "../../src/statistics/asymmetryVerdict.ts";
import { mean } from "../../src/statistics/moments.ts";
import { sideRule, type SideRule } from "../../src/statistics/sideRule.ts";
import { readAsymmetry, type Reading } from "../../src/wording/readings.ts";
import { alikeBut } from "./combineAthlete.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { sessionsOf, type Session } from "./sessions.ts";

/** Left and right of an athlete on one day. */
export interface Sides {
  readonly date: string;
  readonly design: "bilateral" | "singleLeg";
  readonly protocolText: string;
  /** Of both legs, or of the left leg and of the right one. */
  readonly protocols: readonly string[];
  readonly name: string;
  readonly unit: string;
  readonly left: readonly number[];
  readonly right: readonly number[];
  /** Name of the formula of the percentage. */
  readonly formula: string;
  readonly percentage: number;
  readonly verdict?: AsymmetryVerdict;
  readonly reading?: Reading;
  /** Why there is no verdict. */
  readonly reason?: string;
  /** Percentages of the sessions up to this one, oldest first, this one last. */
  readonly history: readonly { readonly date: string; readonly percentage: number; readonly side: "left" | "right" | "neither" }[];
}

/** What is shown of the sides before a person chooses: forces and impulses of whole phases differ less from trial to trial than peaks. Common practice. */
const FIRST = ["meanForcePropulsion", "propulsionImpulse", "peakForce"];

/** Metrics with two sides in a test of both legs. */
export function sideMetrics(test: Test): readonly string[] {
  const all = METRICS.filter((metric) => metric.forms.sides === true && metric.forms.asymmetry === true && metric.tests.includes(test)).map((metric) => metric.id);
  return [...FIRST.filter((id) => all.includes(id)), ...all.filter((id) => !FIRST.includes(id))];
}

/**
 * Left and right of one athlete and metric, session by session; the last one is the newest.
 *
 * Both legs in one trial: the sides of each trial, paired. One leg at a time: the trials of each leg of the same day.
 *
 * @param protocolText Of the sessions with both legs, or of the left leg.
 */
export function sidesOfAthlete(trials: readonly DecideTrial[], athlete: string, protocolText: string, name: string, settings: Settings): readonly Sides[] {
  const sessions = sessionsOf(trials).filter((session) => session.athlete === athlete);
  const history: { date: string; percentage: number; side: "left" | "right" | "neither" }[] = [];
  // Some formulas give a percentage without a sign, such as the left share: the side is told by the means themselves.
  const signed: number[] = [];
  return sessions.flatMap((session): Sides[] => {
    if (session.protocolText !== protocolText) return [];
    const pair = session.protocol.limb === "left" ? singleLeg(session, sessions, name) : bothLegs(session, name);
    if (pair === undefined) return [];
    const { design, left, right, protocols } = pair;
    const setting = settings.values[design === "bilateral" ? "asymmetry-formula" : "asymmetry-formula-single-leg"];
    const { id, name: formula } = asymmetryFormulaByName(String(setting));
    const percentage = asymmetry(mean(left), mean(right), id);
    const difference = asymmetry(mean(left), mean(right), "logRatio");
    signed.push(difference);
    history.push({ date: session.date, percentage, side: difference > 0 ? "left" : difference < 0 ? "right" : "neither" });
    const shared = { date: session.date, design, protocolText, protocols, name, unit: resolveMetricName(name).unit, left, right, formula, percentage, history: [...history] };
    try {
      const verdict = asymmetryVerdict(left, right, design);
      const rule = settings.values["asymmetry-verdict"] as SideRule;
      const answer = rule === "interval" ? undefined : sideRule(rule, left, right, design);
      const reading = readAsymmetry(
        { verdict, formula, percentage, ...(signed.length > 1 ? { history: sideHistory(signed) } : {}), ...(answer === undefined ? {} : { rule: answer }) },
        { name, unit: shared.unit },
      );
      return [{ ...shared, verdict, reading }];
    } catch (thrown) {
      if (!(thrown instanceof InputError)) throw thrown;
      return [{ ...shared, reason: thrown.message }];
    }
  });
}

interface Pair {
  readonly protocols: readonly string[];
  readonly design: "bilateral" | "singleLeg";
  readonly left: readonly number[];
  readonly right: readonly number[];
}

function bothLegs(session: Session, name: string): Pair | undefined {
  if (session.protocol.limb === "right") return undefined;
  const pairs = session.trials.flatMap((trial) => {
    const [left, right] = trial.use === "keep" ? [trial.value(`${name}Left`), trial.value(`${name}Right`)] : [];
    return left !== undefined && right !== undefined && left > 0 && right > 0 ? [[left, right] as const] : [];
  });
  return pairs.length === 0 ? undefined : { design: "bilateral", protocols: [session.protocolText], left: pairs.map(([left]) => left), right: pairs.map(([, right]) => right) };
}

function singleLeg(session: Session, sessions: readonly Session[], name: string): Pair | undefined {
  const other = sessions.find((candidate) => candidate.date === session.date && candidate.protocol.limb === "right" && alikeBut(session, candidate, ["limb"]));
  const values = (from: Session): readonly number[] => from.trials.flatMap((trial) => (trial.use === "keep" ? (trial.value(name) ?? []) : []));
  if (other === undefined) return undefined;
  const [left, right] = [values(session), values(other)];
  return left.length === 0 || right.length === 0 ? undefined : { design: "singleLeg", protocols: [session.protocolText, other.protocolText], left, right };
}
