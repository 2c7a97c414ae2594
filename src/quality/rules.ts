import type { FindingAction, MetricGroup } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import type { Facts } from "./Facts.ts";

/** What a rule says of a trial. */
export interface Judgement {
  readonly action: FindingAction;
  readonly removes?: readonly MetricGroup[];
  /** Values of the sentence; `case` chooses among the sentences of the rule. */
  readonly values?: Readonly<Record<string, number | string>>;
}

/** One rule on one trial: limits come from the settings, facts from the analysis, sentences from `src/wording`. */
export interface Rule {
  readonly id: string;
  /** Absent: every test. */
  readonly tests?: readonly Test[];
  readonly judge: (facts: Facts, limit: Limit) => Judged;
}

export type Judged = Judgement | readonly Judgement[] | undefined;

/** A limit by the id of its setting. */
export type Limit = (setting: string) => number;

const JUMPS: readonly Test[] = ["CMJ", "SJ", "DJ", "RH"];
const HEIGHT_TESTS: readonly Test[] = ["CMJ", "SJ", "DJ"];
const STANDING: readonly Test[] = ["CMJ", "SJ"];
const WEIGHED: readonly MetricGroup[] = ["B", "V"];
const NOT_CHECKED: Judgement = { action: "not checked", values: { case: "notChecked" } };
/** Displayed as short where a window misses its length by less than this, s: windows are cut at blocks of 10 ms. */
const BLOCK = 0.02;

/** The rules of one trial. Q20 and Q25 compare trials and belong to sessions. */
export const RULES: readonly Rule[] = [
  {
    id: "Q1",
    judge(facts, limit): Judged {
      const { bodyWeight, weighingSway: sd, weighingHalf } = facts;
      if (facts.bodyWeightGiven === true || bodyWeight === undefined || sd === undefined || weighingHalf === undefined) return undefined;
      const wider = facts.stance === "unsteady" ? limit("q1-unsteady-factor") : 1;
      const percent = bodyWeight / 100;
      const look = wider * Math.max(limit("q1-sd-look") * percent, limit("q1-sd-look-force"));
      const remove = wider * Math.max(limit("q1-sd-remove") * percent, limit("q1-sd-remove-force"));
      const drift = Math.abs(weighingHalf);
      const driftLook = wider * Math.max(limit("q1-drift") * percent, limit("q1-drift-force"));
      // The movement of a held squat has its own limits (Q12).
      const squat = facts.test === "SJ";
      if (!squat) {
        if (sd > remove) return { action: "look", removes: WEIGHED, values: { case: "remove", sd, limit: remove } };
        if (drift > 2 * driftLook) return { action: "look", removes: WEIGHED, values: { case: "removeDrift", drift, limit: 2 * driftLook } };
      }
      if (!squat && sd > look) return { action: "look", values: { sd, limit: look } };
      if (drift > driftLook) return { action: "look", values: { case: "drift", drift, limit: driftLook } };
      return undefined;
    },
  },
  {
    id: "Q2",
    judge(facts, limit): Judged {
      if (facts.bodyWeightGiven === true) return undefined;
      if (facts.enteredMass === undefined || facts.bodyMass === undefined) return NOT_CHECKED;
      const difference = Math.abs(facts.bodyMass - facts.enteredMass);
      const share = (100 * difference) / facts.enteredMass;
      const values = { plate: facts.bodyMass, entered: facts.enteredMass };
      if (share > limit("q2-missing-share")) return { action: "look", values: { case: "missing", ...values } };
      if (difference > limit("q2-mass") || share > limit("q2-mass-share")) return { action: "look", values };
      return undefined;
    },
  },
  {
    id: "Q3",
    tests: JUMPS,
    judge(facts, limit): Judged {
      if (facts.zeroedUpstream === true) {
        return { action: "not checked", values: facts.cutValue === undefined ? { case: "notChecked" } : { case: "notChecked", cut: facts.cutValue } };
      }
      if (facts.offset === undefined) return { action: "not checked", values: { case: "noFlight" } };
      const { offset, offsetLeft: left, offsetRight: right } = facts;
      const largest = left !== undefined && right !== undefined ? Math.max(Math.abs(left), Math.abs(right)) : Math.abs(offset);
      if (largest <= limit("q3-offset")) return undefined;
      const values: Record<string, number> = left !== undefined && right !== undefined ? { offset, left, right } : { offset };
      return facts.offsetRemoved === false ? { action: "look", values: { case: "notRemoved", ...values } } : { action: "corrected", values };
    },
  },
  {
    id: "Q4",
    tests: JUMPS,
    judge(facts, limit): Judged {
      if (facts.noFlight === true) return undefined;
      if (facts.zeroedUpstream === true || facts.drift === undefined) return STANDING.includes(facts.test) ? NOT_CHECKED : undefined;
      if (Math.abs(facts.drift) <= limit("q4-drift")) return undefined;
      const { drift } = facts;
      return facts.driftRemoved === true ? { action: "corrected", values: { drift } } : { action: "look", values: { case: "notRemoved", drift } };
    },
  },
  {
    id: "driftSides",
    tests: STANDING,
    judge: (facts) => (facts.driftRemoved === true && facts.twoPlates === true ? { action: "note" } : undefined),
  },
  {
    id: "Q5",
    judge(facts): Judged {
      return facts.clipping?.map((clip): Judgement => ({
        action: "look",
        removes: clip.part === "push" ? ["V", "L"] : ["L"],
        values: clip.plate === undefined ? { level: clip.force } : { plate: clip.plate, level: clip.force },
      }));
    },
  },
  {
    id: "Q6",
    judge(facts, limit): Judged {
      if (facts.rate < limit("q6-rate-look")) return { action: "look", values: { case: "veryLow", rate: facts.rate } };
      if (facts.rate < limit("q6-rate-note")) return { action: "note", values: { case: "low", rate: facts.rate } };
      return undefined;
    },
  },
  {
    id: "Q7",
    tests: ["CMJ", "SJ", "RH", "IMTP"],
    judge(facts): Judged {
      if (facts.noQuietStand === true && facts.bodyWeightGiven !== true) {
        return { action: "look", removes: WEIGHED, values: facts.quietSeconds === undefined ? {} : { length: facts.quietSeconds } };
      }
      if (facts.noRest === true) return { action: "look", removes: ["V"], values: { case: "moving" } };
      return undefined;
    },
  },
  {
    id: "shortWeighing",
    judge(facts, limit): Judged {
      const length = facts.weighingSeconds;
      const wanted = facts.test === "DJ" ? limit("q17-quiet-look") : limit("weighing-length");
      if (length === undefined || facts.bodyWeightGiven === true || facts.weighingByHand === true || length >= wanted - BLOCK) return undefined;
      return { action: "look", values: { length, wanted } };
    },
  },
  {
    id: "bodyWeightGiven",
    judge: (facts) => (facts.bodyWeightGiven === true ? { action: "note", values: { bodyWeight: facts.bodyWeight ?? 0 } } : undefined),
  },
  {
    id: "eventMoved",
    judge: (facts) => facts.moved?.map(({ event, time }): Judgement => ({ action: "note", values: { event, time } })),
  },
  {
    id: "filtered",
    judge: (facts) => (facts.filteredAt === undefined ? undefined : { action: "note", values: { cutOff: facts.filteredAt } }),
  },
  {
    id: "Q8",
    tests: JUMPS,
    judge(facts, limit): Judged {
      if (facts.noFlight === true) return { action: "leave out", removes: ["T", "V", "L"], values: {} };
      const shortest = facts.test === "RH" ? limit("hop-flight-shortest") : limit("q8-flight-shortest");
      if (facts.flight !== undefined && facts.flight < shortest) return { action: "leave out", values: { case: "short", flight: facts.flight } };
      if (facts.flight !== undefined && facts.flight > limit("q8-flight-longest")) return { action: "leave out", values: { case: "long", flight: facts.flight } };
      if (STANDING.includes(facts.test) && facts.pushShare !== undefined && facts.pushShare < limit("q8-push")) {
        return { action: "leave out", values: { case: "noPush", peak: facts.pushShare, limit: limit("q8-push") } };
      }
      return undefined;
    },
  },
  {
    id: "severalJumps",
    tests: STANDING,
    judge: (facts) => (facts.jumps === undefined ? undefined : { action: "note", values: { count: facts.jumps, number: facts.jumpNumber ?? 1 } }),
  },
  {
    id: "noLanding",
    tests: JUMPS,
    judge: (facts) => (facts.noLanding === true ? { action: "look", values: {} } : undefined),
  },
  {
    id: "recordEndsEarly",
    tests: JUMPS,
    judge: (facts) => (facts.recordEnds === undefined ? undefined : { action: "note", values: { after: facts.recordEnds } }),
  },
  {
    id: "noOnset",
    tests: STANDING,
    judge: (facts) => (facts.noOnset === true ? { action: "look", removes: ["V"], values: {} } : undefined),
  },
  {
    id: "noLowest",
    tests: ["CMJ", "DJ"],
    judge: (facts) => (facts.noLowest === true ? { action: facts.test === "CMJ" ? "leave out" : "look", values: {} } : undefined),
  },
  {
    id: "noTakeoffVelocity",
    tests: HEIGHT_TESTS,
    judge: (facts) => (facts.noTakeoffVelocity === undefined ? undefined : { action: "look", removes: ["V"], values: { velocity: facts.noTakeoffVelocity } }),
  },
  {
    id: "Q9",
    tests: HEIGHT_TESTS,
    judge(facts, limit): Judged {
      if (facts.noFlight === true) return undefined;
      const { heightDifference: difference, heightVelocity: height } = facts;
      if (difference === undefined || height === undefined) return NOT_CHECKED;
      const percent = height < 0.2 ? height / 100 : Infinity;
      const note = Math.min(limit("q9-note"), limit("q9-note-share") * percent);
      const look = Math.min(limit("q9-look"), limit("q9-look-share") * percent);
      if (difference > look) return { action: "look", values: { case: "above", difference } };
      if (difference < -limit("q9-below")) return { action: "look", values: { case: "below", size: -difference } };
      if (difference > note) return { action: "note", values: { difference } };
      return undefined;
    },
  },
  {
    id: "Q10",
    tests: HEIGHT_TESTS,
    judge(facts, limit): Judged {
      if (facts.noFlight === true || facts.endsBackward === true) return undefined;
      const { endVelocity: velocity, endVelocityHeight } = facts;
      if (velocity === undefined || endVelocityHeight === undefined) return NOT_CHECKED;
      const height = Math.abs(endVelocityHeight);
      if (height > limit("q10-remove")) return { action: "look", removes: ["V"], values: { case: "remove", velocity, height } };
      if (height > limit("q10-look")) return { action: "look", values: { velocity, height } };
      return undefined;
    },
  },
  {
    id: "Q11",
    tests: ["SJ"],
    judge(facts, limit): Judged {
      if (facts.dip === undefined) return undefined;
      const dip = 100 * facts.dip;
      const deviations = facts.dipDeviations ?? 0;
      const depth = facts.dipDepth ?? 0;
      if (facts.dipRule === "displacement" && depth > limit("squat-dip-depth")) return { action: "leave out", values: { case: "displacement", depth } };
      if (facts.dipRule === "5 SD" && deviations > SMALL_DIP) return { action: "leave out", values: { dip } };
      if (facts.dipRule === "share of body weight" && dip > limit("squat-dip-limit")) return { action: "leave out", values: { dip } };
      return deviations > SMALL_DIP ? { action: "look", values: { case: "small", dip } } : undefined;
    },
  },
  {
    id: "Q12",
    tests: ["SJ"],
    judge(facts, limit): Judged {
      const { holdSeconds: length, holdSway: sd, bodyWeight } = facts;
      if (length === undefined || sd === undefined || bodyWeight === undefined) return undefined;
      if (length < limit("q12-hold") - BLOCK) return { action: "look", removes: ["V"], values: { case: "short", length, limit: limit("q12-hold") } };
      if (sd > (limit("q12-sd") * bodyWeight) / 100) return { action: "look", removes: ["V"], values: { case: "remove", sd } };
      const look = limit("q1-unsteady-factor") * Math.max((limit("q1-sd-look") * bodyWeight) / 100, limit("q1-sd-look-force"));
      return sd > look ? { action: "look", values: { sd, limit: look } } : undefined;
    },
  },
  {
    id: "Q13",
    tests: ["DJ"],
    judge(facts, limit): Judged {
      if (facts.noFlight === true) return undefined;
      if (facts.emptyBefore === undefined || facts.emptyBefore < limit("q13-empty")) return { action: "leave out", values: {} };
      if (facts.emptyDifference !== undefined && Math.abs(facts.emptyDifference) > limit("q13-difference")) {
        return { action: "look", values: { case: "drift", difference: facts.emptyDifference } };
      }
      return undefined;
    },
  },
  {
    id: "Q14",
    tests: ["DJ"],
    judge(facts, limit): Judged {
      if (facts.doubleContact !== undefined && facts.doubleContact >= limit("q14-gap")) return { action: "leave out", values: { gap: facts.doubleContact } };
      if (facts.noFlight === true) return undefined;
      if (facts.split === undefined) return facts.twoPlates === true ? undefined : NOT_CHECKED;
      if (facts.split > limit("q14-split-remove")) return { action: "look", removes: ["A"], values: { case: "splitRemove", split: facts.split } };
      if (facts.split > limit("q14-split-look")) return { action: "look", values: { case: "split", split: facts.split } };
      return undefined;
    },
  },
  {
    id: "Q15",
    tests: ["DJ"],
    judge(facts, limit): Judged {
      if (facts.noFlight === true) return undefined;
      const { measuredDrop: real, nominalDrop: nominal } = facts;
      if (nominal === undefined || real === undefined) return NOT_CHECKED;
      const difference = Math.abs(real - nominal);
      const far = difference > (limit("q15-share") / 100) * nominal || difference > limit("q15-difference");
      return far ? { action: "look", values: { case: "look", real, nominal } } : { action: "note", values: { real, nominal } };
    },
  },
  {
    id: "Q16",
    tests: ["DJ"],
    judge(facts, limit): Judged {
      const { contact } = facts;
      return contact !== undefined && contact > limit("fast-contact-limit") ? { action: "note", values: { contact, limit: limit("fast-contact-limit") } } : undefined;
    },
  },
  {
    id: "Q17",
    tests: ["DJ"],
    judge(facts, limit): Judged {
      if (facts.noFlight === true || facts.route === "two plates") return undefined;
      if (facts.finalStandSeconds === undefined) {
        return facts.route === undefined
          ? { action: "look", removes: ["V"], values: { case: "none" } }
          : { action: "look", values: { case: "notAvailable", route: facts.route } };
      }
      return facts.finalStandSeconds < limit("q17-quiet-look") - BLOCK ? { action: "look", values: { length: facts.finalStandSeconds } } : undefined;
    },
  },
  {
    id: "dropRoute",
    tests: ["DJ"],
    judge(facts): Judged {
      if (facts.route === undefined || facts.routeAsked === undefined || facts.route === facts.routeAsked) return undefined;
      return { action: "note", values: { route: facts.route } };
    },
  },
  {
    id: "boxHeight",
    tests: ["DJ"],
    judge: (facts) => (facts.route === "box" ? { action: "note", values: {} } : undefined),
  },
  {
    id: "notSpringLike",
    tests: ["DJ"],
    judge: (facts) =>
      facts.peakOverLowest !== undefined && facts.peakOverLowest > SPRING_LIKE ? { action: "note", values: { excess: 100 * facts.peakOverLowest } } : undefined,
  },
  {
    id: "Q18",
    tests: ["RH"],
    judge(facts, limit): Judged {
      if (facts.validHops === undefined || facts.noFlight === true) return undefined;
      if (facts.validHops === 0) return { action: "leave out", values: { case: "none" } };
      const found: Judgement[] = [];
      const needed = limit("q18-hops");
      if (facts.validHops < needed) found.push({ action: "look", values: { valid: facts.validHops, needed } });
      if (facts.droppedHops !== undefined && facts.droppedHops > 0) {
        found.push({ action: "look", values: { case: "dropped", dropped: facts.droppedHops, why: facts.droppedWhy ?? "" } });
      }
      return found;
    },
  },
  {
    id: "Q19",
    tests: ["IMTP"],
    judge(facts, limit): Judged {
      const found: Judgement[] = [];
      if (facts.pretension === undefined) found.push(NOT_CHECKED);
      else if (facts.pretension > limit("q19-pretension")) {
        found.push({ action: "look", values: { tension: facts.pretension, limit: limit("q19-pretension") } });
      }
      const percent = (facts.bodyWeight ?? facts.baseline ?? 0) / 100;
      const sd = facts.baselineSway;
      if (sd !== undefined && percent > 0) {
        const remove = limit("q19-sd-remove") * percent;
        const look = limit("q19-sd-look") * percent;
        if (sd > remove) found.push({ action: "look", removes: ["T"], values: { case: "remove", sd, limit: remove } });
        else if (sd > look) found.push({ action: "look", values: { case: "restless", sd, limit: look } });
      }
      if (facts.pullDip !== undefined) found.push({ action: "look", removes: ["T"], values: { case: "dip", dip: facts.pullDip } });
      if (facts.peakAtEnd === true) found.push({ action: "look", values: { case: "atEnd" } });
      return found;
    },
  },
  {
    id: "noPull",
    tests: ["IMTP"],
    judge: (facts) => (facts.noPull === true ? { action: "leave out", removes: ["T"], values: {} } : undefined),
  },
  {
    id: "severalPulls",
    tests: ["IMTP"],
    judge: (facts) => (facts.pulls !== undefined && facts.pulls > 1 ? { action: "note", values: { count: facts.pulls } } : undefined),
  },
  {
    id: "Q21",
    judge: (facts) => (facts.twoPlates === true ? NOT_CHECKED : undefined),
  },
  {
    id: "plateDelay",
    judge: (facts) => (facts.twoPlates === true ? NOT_CHECKED : undefined),
  },
  {
    id: "alreadyFiltered",
    judge: () => NOT_CHECKED,
  },
  {
    id: "Q22",
    judge(facts, limit): Judged {
      if (facts.leftShare === undefined) return undefined;
      const left = 100 * facts.leftShare;
      return Math.abs(left - 50) > limit("q22-share") ? { action: "look", values: { left } } : undefined;
    },
  },
  {
    id: "Q23",
    judge(facts, limit): Judged {
      const { freePlate: force, otherLeg } = facts;
      if (otherLeg !== undefined) return { action: "leave out", values: { case: "otherLeg", leg: otherLeg } };
      return force !== undefined && force > limit("q23-free-plate") ? { action: "leave out", values: { force } } : undefined;
    },
  },
  {
    id: "otherFootLands",
    judge: (facts) => (facts.otherFootLands === true ? { action: "note" } : undefined),
  },
  {
    id: "Q24",
    tests: JUMPS,
    judge(facts, limit): Judged {
      if (facts.noFlight === true || facts.test === "RH") return undefined;
      if (facts.lowAfterLanding !== undefined && facts.lowAfterLanding > limit("q24-time")) {
        return { action: "look", removes: ["L"], values: { share: limit("q24-share"), time: facts.lowAfterLanding } };
      }
      if (facts.finalShare === undefined) return NOT_CHECKED;
      const difference = 100 * Math.abs(facts.finalShare - 1);
      return difference > limit("q24-standing") ? { action: "look", removes: ["L"], values: { case: "standing", difference } } : undefined;
    },
  },
  {
    id: "thresholdCut",
    tests: JUMPS,
    judge: (facts) => (facts.zeroedUpstream === true ? raised(facts) : undefined),
  },
  {
    id: "threshold",
    tests: JUMPS,
    judge: (facts) => (facts.zeroedUpstream === true ? undefined : raised(facts)),
  },
  {
    id: "ringing",
    tests: JUMPS,
    judge(facts): Judged {
      if (facts.bridged === undefined || facts.bridged === 0) return undefined;
      return { action: "note", values: facts.residual === undefined || facts.residual < 1 ? { count: facts.bridged } : { count: facts.bridged, residual: facts.residual } };
    },
  },
  {
    id: "onsetLimit",
    judge(facts): Judged {
      if (facts.onsetLimit === undefined || facts.onsetLimitUsed === undefined || facts.onsetLimit <= facts.onsetLimitUsed) return undefined;
      return { action: "look", values: { limit: facts.onsetLimit, used: facts.onsetLimitUsed } };
    },
  },
];

/** A fall below body weight by more than this many SDs of the hold is a dip. */
const SMALL_DIP = 5;
/** A peak above the force at the lowest point by more than this share is no spring. */
const SPRING_LIKE = 0.05;

function raised(facts: Facts): Judgement | undefined {
  const { threshold, thresholdAsked: wanted } = facts;
  if (threshold === undefined || wanted === undefined || threshold <= wanted) return undefined;
  return { action: "note", values: { threshold, wanted, residual: facts.residual ?? 0 } };
}
