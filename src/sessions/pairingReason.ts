import { likeProtocols } from "../protocols/likeProtocols.ts";
import type { Protocol, Test } from "../protocols/Protocol.ts";

/** Ways to combine results of different tests. */
export const COMBINATIONS = ["eccentricUtilisation", "prestretchAugmentation", "dynamicStrength", "armSwing", "bilateral"] as const;
export type Combination = (typeof COMBINATIONS)[number];

/** What each place of a combination must be. */
interface Place {
  readonly tests?: readonly Test[];
  readonly arms?: Protocol["arms"];
  readonly limb?: Protocol["limb"];
  readonly words: string;
}

const RULES: Readonly<Record<Combination, { places: readonly Place[]; except: readonly (keyof Protocol)[] }>> = {
  eccentricUtilisation: { places: [{ tests: ["CMJ"], words: "a countermovement jump" }, { tests: ["SJ"], words: "a squat jump" }], except: ["test"] },
  prestretchAugmentation: { places: [{ tests: ["CMJ"], words: "a countermovement jump" }, { tests: ["SJ"], words: "a squat jump" }], except: ["test"] },
  dynamicStrength: {
    places: [
      { tests: ["CMJ", "SJ"], words: "a countermovement or squat jump" },
      { tests: ["IMTP"], words: "an isometric mid-thigh pull" },
    ],
    except: ["test", "arms"],
  },
  armSwing: {
    places: [
      { arms: "swing", words: "a jump with a free arm swing" },
      { arms: "hips", words: "a jump with hands on the hips" },
    ],
    except: ["arms"],
  },
  bilateral: {
    places: [
      { limb: "both", words: "a test with both limbs" },
      { limb: "left", words: "a test with the left limb" },
      { limb: "right", words: "a test with the right limb" },
    ],
    except: ["limb"],
  },
};

/**
 * Why results of these protocols must not be combined, or `undefined` where they may.
 *
 * Only what the combination is about may differ: the test in a ratio of tests, the arms in an
 * arm-swing gain, the limb in a bilateral index. Where no protocol is given at all,
 * nothing is checked; where some are, all must be.
 *
 * @param kind Combination, no unit.
 * @param protocols Protocol of each part in the order of the formula, no unit; absent parts as undefined.
 * @returns Reason in a few words, or undefined.
 * @see common practice: a ratio of unlike jumps measures the unlikeness.
 */
export function pairingReason(kind: Combination, protocols: readonly (Protocol | undefined)[]): string | undefined {
  const { places, except } = RULES[kind];
  const given = protocols.filter((protocol): protocol is Protocol => protocol !== undefined);
  if (given.length === 0) return undefined;
  if (given.length < places.length) return "the protocol is stated for a part of the results only";
  for (let i = 0; i < places.length; i++) {
    const { tests, arms, limb, words } = places[i];
    const protocol = given[i];
    const fits =
      (tests === undefined || tests.includes(protocol.test)) &&
      (arms === undefined || protocol.arms === arms) &&
      (limb === undefined || (protocol.limb ?? "both") === limb);
    if (!fits) return `result ${i + 1} must come from ${words}`;
  }
  for (let i = 1; i < given.length; i++) {
    const reason = likeProtocols(given[0], given[i], except);
    if (reason !== undefined) return reason;
  }
  return undefined;
}
