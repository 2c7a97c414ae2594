import type { Adjust } from "./Adjust.ts";
import type { Analysis, Hop, TimeSeries } from "./Analysis.ts";
import { NO_ADJUST } from "./parseAdjust.ts";
import type { Protocol } from "./Protocol.ts";
import { analyseDropJump } from "./dropJump.ts";
import { missingReasons } from "./missingReasons.ts";
import { analysePull } from "./isometricPull.ts";
import { otherLegCarries } from "./otherLegCarries.ts";
import { analyseHops } from "./repeatedHops.ts";
import { analyseStandingJump } from "./standingJump.ts";
import { timeSeriesOf } from "./timeSeries.ts";
import { Trial } from "./Trial.ts";
import { GROUP_BITS, type Workings } from "./workings.ts";
import { judge, verdictOf } from "../quality/judge.ts";
import type { Settings } from "../settings/Settings.ts";
import { ownMemory, reusedMemory } from "../trace/memory.ts";
import type { Trace } from "../trace/Trace.ts";

/**
 * Analyses one trial: events, phases, metrics with their uncertainty, findings and the steps that gave each number.
 *
 * What the trace cannot give is missing with its reason; a verdict never stops the computing.
 *
 * @param trace Vertical force, N, at a constant rate.
 * @param protocol What the athlete was asked to do.
 * @param settings Complete settings.
 * @param adjust This trial's own facts and moved events, s.
 * @returns The analysis, in SI units.
 * @throws {InputError} `wrong-shape` or `not-a-number` where the trace cannot be one.
 */
export function analyse(trace: Trace, protocol: Protocol, settings: Settings, adjust: Adjust = NO_ADJUST): Analysis {
  MEMORY.restart();
  const trial = new Trial(trace, protocol, settings, adjust, MEMORY.take, false);
  const hops = run(trial);
  if (trial.facts.noFlight === true) trial.facts.otherLeg = otherLegCarries(trial);
  const findings = judge(trial.facts, settings);
  let bits = 0;
  for (const finding of findings) for (const group of finding.removes) bits |= GROUP_BITS[group];
  const removed = bits === 0 ? undefined : trial.work.remove(bits);
  if (trial.facts.clipping?.some((clip) => clip.part === "push") === true) {
    trial.work.metrics.keep(({ id }) => !CLIPPED_FORCES.test(id));
  }
  return new Analysed(trial, findings, hops, removed);
}

/**
 * The analysis of a trial; what only explanations need is made when somebody asks. A class, because the engine would keep each literal
 * with getters of its own, and all it leads to, until its next full collection.
 */
class Analysed implements Analysis {
  readonly protocol: Protocol;
  readonly settings: Settings;
  readonly adjust: Adjust;
  readonly trace: Trace;
  readonly events: Analysis["events"];
  readonly phases: Analysis["phases"];
  readonly verdict: Analysis["verdict"];
  private readonly reasons: ReadonlyMap<string, string>;
  private readonly work: Workings;
  private missed: Analysis["missing"] | undefined;
  private worked: Analysis["steps"] | undefined;
  private series: TimeSeries | undefined;

  constructor(
    trial: Trial,
    readonly findings: Analysis["findings"],
    readonly hops: Analysis["hops"],
    private readonly removed: ReadonlyMap<string, number> | undefined,
  ) {
    this.protocol = trial.protocol;
    this.settings = trial.settings;
    this.adjust = trial.adjust;
    this.trace = trial.trace;
    this.events = trial.events;
    this.phases = trial.phases;
    this.verdict = verdictOf(findings);
    this.reasons = trial.reasons;
    this.work = trial.work;
  }

  get metrics(): Analysis["metrics"] {
    return this.work.metrics;
  }

  get missing(): Analysis["missing"] {
    return (this.missed ??= missingReasons(this.protocol.test, this.metrics, this.reasons, this.findings, this.removed));
  }

  get steps(): Analysis["steps"] {
    return (this.worked ??= again(this).work.steps());
  }

  timeSeries(): TimeSeries {
    return (this.series ??= timeSeriesOf(again(this)));
  }
}

/** The columns of a trial are gone when the next one is analysed. */
const MEMORY = reusedMemory();

/** Runs the trial once more for who asks how: with columns of its own, and every step written down. */
function again({ trace, protocol, settings, adjust }: Analysis): Trial {
  const trial = new Trial(trace, protocol, settings, adjust, ownMemory, true);
  run(trial);
  return trial;
}

/** Forces that a force cut off during the push makes too low. */
const CLIPPED_FORCES = /^(peakForce(Braking|Propulsion)?|impactPeakForce|secondPeakForce|maximumRfd|minimumForce)(Left|Right)?$/;

function run(trial: Trial): readonly Hop[] {
  switch (trial.protocol.test) {
    case "CMJ":
    case "SJ":
      analyseStandingJump(trial);
      return [];
    case "DJ":
      analyseDropJump(trial);
      return [];
    case "RH":
      return analyseHops(trial);
    case "IMTP":
      analysePull(trial);
      return [];
  }
}
