import { describe, expect, test } from "vitest";
import { onsetRuleOf, onsetSample, pinnedWindow, type Rest, restBefore } from "../../../src/protocols/restBefore.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { type Asked, type Choice, traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

// Forces by pieces at 100 Hz, where a sample is a block of 10 ms. The method: the last 0.25 s in which the force stayed within a band of a
// provisional weight, then the window of a second that ends 0.15 s before that, moved back to where the person stands still.

const RATE = 100;

type Piece = readonly [samples: number, force: number | ((i: number) => number)];

function trial(pieces: readonly Piece[], asked: Asked = { protocol: "CMJ" }, more: { step?: number; rounding?: number } = {}): Trial {
  const force = pieces.flatMap(([samples, of]) => Array.from({ length: samples }, (_, i) => (typeof of === "number" ? of : of(i))));
  return trialOf(traceOf({ total: force }, RATE, more), asked);
}

/** Up and down by so much from sample to sample: its mean does not move, and no 50 ms of it does much. */
const shaking = (mean: number, by: number) => (i: number) => mean + (i % 2 === 0 ? by : -by);
/** Up and down by so much from 0.2 s to 0.2 s: the spread of 50 ms means is about this, wherever they begin. */
const swaying = (mean: number, by: number) => (i: number) => mean + (Math.floor(i / 20) % 2 === 0 ? by : -by);
/** That spread over a second that begins 0.35 s into the sway: 11 means of 20 are above and 9 below. */
const spreadOf = (by: number): number => by * Math.sqrt((20 - 20 * 0.1 ** 2) / 19);

const window = (rest: Rest | undefined): unknown => (rest === undefined ? undefined : [rest.weighing.start, rest.weighing.end, rest.steadyUntil, rest.from]);

describe("rest before a movement", () => {
  test("is weighed over a second that ends 0.15 s before the movement begins", () => {
    const one = trial([[200, 800], [50, 400]]);
    expect(window(restBefore(one, 250))).toEqual([85, 185, 200, 185]);
    expect(one.weight!.value).toBe(800);
    expect(one.events.get("weighingStart")!.time).toBe(0.85);
    expect(Object.keys(one.facts).filter((key) => /quiet|rest|hold|ByHand/i.test(key))).toEqual([]);
    const half = trial([[200, 800], [50, 400]], { protocol: "CMJ", choices: [["weighing-length", 0.6]] });
    expect(window(restBefore(half, 250))).toEqual([125, 185, 200, 185]);
    // Before a sample that is asked for: the end of a stand that goes on.
    expect(window(restBefore(trial([[300, 800]]), 190))).toEqual([75, 175, 190, 175]);
  });

  test("may move twice as much on one leg as on two", () => {
    // The last second and a half sways by 12 N; 1 per cent of 800 N is 8 N, twice that is 16 N.
    const pieces: readonly Piece[] = [[150, 800], [150, swaying(800, 12)], [50, 400]];
    const both = restBefore(trial(pieces), 350)!;
    expect(both.weighing.end).toBeLessThan(240);
    expect(both.weighing.sway).toBeLessThanOrEqual(8);
    const one = restBefore(trial(pieces, { protocol: "CMJ limb=left" }), 350)!;
    expect(window(one)).toEqual([185, 285, 300, 285]);
    expect(one.weighing.sway).toBeCloseTo(spreadOf(12), 9);
    // At least 5 N, whatever the weight: 1 per cent of 300 N is less.
    const light = trial([[150, 300], [150, swaying(300, 4.5)], [50, 100]]);
    expect(window(restBefore(light, 350))).toEqual([185, 285, 300, 285]);
    const other = trial([[150, 300], [150, swaying(300, 6.5)], [50, 100]]);
    expect(restBefore(other, 350)!.weighing.end).toBeLessThan(285);
    const wide = trial([[150, 300], [150, swaying(300, 6.5)], [50, 100]], { protocol: "CMJ", choices: [["q1-sd-look-force", 7]] });
    expect(window(restBefore(wide, 350))).toEqual([185, 285, 300, 285]);
    const share = trial([[150, 300], [150, swaying(300, 6.5)], [50, 100]], { protocol: "CMJ", choices: [["q1-sd-look", 2.5]] });
    expect(window(restBefore(share, 350))).toEqual([185, 285, 300, 285]);
  });

  test("of less than half a second is none, unless body weight is known", () => {
    const brief = (samples: number): readonly Piece[] => [[200, shaking(800, 100)], [samples, 800], [50, 300]];
    const enough = trial(brief(64));
    expect(window(restBefore(enough, 314))).toEqual([200, 249, 264, 249]);
    expect(enough.facts.weighingSeconds).toBe(0.49);
    const short = trial(brief(63));
    expect(restBefore(short, 313)).toBeUndefined();
    expect([short.facts.noQuietStand, short.facts.quietSeconds, short.facts.noRest, short.weight]).toEqual([true, 0.48, undefined, undefined]);
    const given = trial(brief(63), { protocol: "CMJ", adjust: "bodyWeight=801" });
    expect(window(restBefore(given, 313))).toEqual([200, 248, 263, 248]);
    expect([given.weight!.value, given.facts.noQuietStand, given.facts.quietSeconds]).toEqual([801, undefined, undefined]);
    // 0.2 s less a sample are enough then.
    const least: readonly Choice[] = [["q1-shortest-given", 0.3]];
    expect(restBefore(trial(brief(44), { protocol: "CMJ", adjust: "bodyWeight=801", choices: least }), 294)).toBeDefined();
    const none = trial(brief(43), { protocol: "CMJ", adjust: "bodyWeight=801", choices: least });
    expect(restBefore(none, 293)).toBeUndefined();
    expect([none.facts.noQuietStand, none.facts.noRest, none.facts.quietSeconds, none.weight!.value]).toEqual([true, true, 0.28, 801]);
    expect(restBefore(trial(brief(53), { protocol: "CMJ", choices: [["q1-shortest", 0.39]] }), 303)).toBeDefined();
  });

  test("of nobody, or of somebody who never stands still, is none", () => {
    const restless = trial([[300, shaking(800, 100)]]);
    expect(restBefore(restless, 300)).toBeUndefined();
    expect([restless.facts.noQuietStand, restless.facts.quietSeconds]).toEqual([true, undefined]);
    const nobody = trial([[200, 15], [50, 300]]);
    expect(restBefore(nobody, 200)).toBeUndefined();
    expect([nobody.facts.noQuietStand, nobody.weight]).toEqual([true, undefined]);
  });

  test("near a weight by hand is looked for around it", () => {
    // Two stands; the later one is not this person's.
    const pieces: readonly Piece[] = [[200, 800], [100, 500], [50, 300]];
    expect(window(restBefore(trial(pieces), 350))).toEqual([200, 285, 300, 285]);
    expect(window(restBefore(trial(pieces, { protocol: "CMJ", adjust: "bodyWeight=790" }), 350))).toEqual([85, 185, 200, 185]);
  });
});

describe("a window by hand", () => {
  test("is weighed, whatever is quiet elsewhere; the movement begins no sooner than where it ends", () => {
    const one = trial([[50, 790], [150, 800], [50, 400]], { protocol: "CMJ", adjust: "weighingStart=0.2; weighingEnd=0.6" });
    expect(window(restBefore(one, 250))).toEqual([20, 60, 200, 60]);
    expect([one.weight!.value, one.facts.weighingByHand, one.noise > 0]).toEqual([(30 * 790 + 10 * 800) / 40, true, true]);
    const late = trial([[200, 800], [50, 400]], { protocol: "CMJ", adjust: "weighingStart=1; weighingEnd=2.1" });
    expect(window(restBefore(late, 250))).toEqual([100, 210, 210, 210]);
    const restless = trial([[300, shaking(800, 100)]], { protocol: "CMJ", adjust: "weighingStart=1; weighingEnd=2" });
    expect(window(restBefore(restless, 300))).toEqual([100, 200, 200, 200]);
    const empty = trial([[100, 0], [150, 800], [50, 400]], { protocol: "CMJ", adjust: "weighingStart=0.2; weighingEnd=0.6" });
    expect(restBefore(empty, 300)).toBeUndefined();
    expect(empty.facts.noQuietStand).toBe(true);
    const given = trial([[200, 800], [50, 400]], { protocol: "CMJ", adjust: "weighingStart=0.2; weighingEnd=0.6; bodyWeight=790" });
    expect([window(restBefore(given, 250)), given.weight!.value]).toEqual([[20, 60, 200, 60], 790]);
  });

  test.each([
    ["weighingStart=0.5; weighingEnd=0.7", { start: 50, end: 70 }],
    // From the next sample on, up to the next sample, without it.
    ["weighingStart=0.501; weighingEnd=0.699", { start: 51, end: 70 }],
    ["weighingStart=0.5; weighingEnd=0.52", { start: 50, end: 52 }],
    ["weighingStart=0.5; weighingEnd=0.51", undefined],
    ["weighingStart=0; weighingEnd=2", { start: 0, end: 200 }],
    ["weighingStart=0.7; weighingEnd=0.5", undefined],
    ["weighingStart=0.5", undefined],
    ["weighingEnd=0.5", undefined],
    ["", undefined],
  ])("%s", (adjust, expected) => {
    expect(pinnedWindow(trial([[200, 800]], { protocol: "CMJ", adjust }))).toEqual(expected);
  });

  test("may be that of other events", () => {
    const one = trial([[200, 800]], { protocol: "DJ", adjust: "boxWeighingStart=0.3; boxWeighingEnd=0.9; weighingStart=1; weighingEnd=1.5" });
    expect(pinnedWindow(one, "boxWeighingStart", "boxWeighingEnd")).toEqual({ start: 30, end: 90 });
  });
});

describe("a squat", () => {
  const SJ: Asked = { protocol: "SJ" };

  test("may sway by 15 per cent of body weight while it is held", () => {
    const pieces: readonly Piece[] = [[200, shaking(800, 80)], [50, 1600]];
    expect(restBefore(trial(pieces), 250)).toBeUndefined();
    const squat = trial(pieces, SJ);
    expect(window(restBefore(squat, 250))).toEqual([85, 185, 200, 185]);
    expect([squat.facts.holdSeconds, squat.weight!.value]).toEqual([(200 - 85) / 100, 800]);
    // Five samples up and down by 80 N have a mean of 16 N, to and fro.
    expect(squat.facts.holdSway).toBeCloseTo(16 * Math.sqrt(20 / 19), 9);
    expect(restBefore(trial([[200, shaking(800, 130)], [50, 1600]], SJ), 250)).toBeUndefined();
  });

  test("that trembles is weighed by the stand before it, if that is quiet and as heavy", () => {
    // Into the squat and out of it the force leaves the band.
    const held = (standing: number | ((i: number) => number), hold: (i: number) => number): Trial => trial([[150, standing], [20, 500], [20, 1100], [150, hold], [50, 1600]], SJ);
    // A tenth of a second up and down: each second has the mean of the squat, and none of it stays within 5 per cent.
    const trembling = (i: number): number => 800 + (Math.floor(i / 10) % 2 === 0 ? 60 : -60);
    const one = held(790, trembling);
    const rest = restBefore(one, 390)!;
    expect([one.weight!.value, one.facts.weighingSeconds]).toEqual([790, 1]);
    // It starts from the squat nevertheless, and as well at rest as the squat is.
    expect(rest.weighing.mean).toBeCloseTo(800, 9);
    expect([rest.steadyUntil, rest.from]).toEqual([340, rest.weighing.end]);
    expect(one.uStart).toBeCloseTo((9.80665 * rest.weighing.impulseSd) / 790, 12);
    expect(one.facts.holdSway).toBe(rest.weighing.sway);
    expect(one.facts.holdSeconds).toBe((340 - rest.weighing.start) / RATE);
    // Less than 5 per cent apart, lighter or heavier, are still the same person.
    for (const [name, standing, hold, weight] of [
      // Out of the band from sample to sample, and yet still: the means of 50 ms are all alike.
      ["held still: no need", 790, (i: number) => 800 + [60, -60, 60, -60, 0][i % 5]!, 800],
      ["nearly as heavy", 761, trembling, 761],
      ["nearly as light", 839, trembling, 839],
      ["not as heavy", 759, trembling, 800],
      ["not as light", 841, trembling, 800],
      ["not quiet either", swaying(790, 11), trembling, 800],
    ] as const) {
      const other = held(standing, hold);
      restBefore(other, 390);
      expect([name, other.weight!.value]).toEqual([name, expect.closeTo(weight, 9)]);
    }
  });

  test("that was held too briefly is weighed by the stand before it", () => {
    const brief = (standing: number, hold: number, asked = SJ): Trial => trial([[standing, 790], [20, 500], [20, 1100], [hold, swaying(800, 1)], [50, 1600]], asked);
    const one = brief(200, 40);
    const rest = restBefore(one, 330)!;
    expect([one.weight!.value, one.facts.holdSeconds, one.facts.quietSeconds, one.facts.noQuietStand]).toEqual([790, 0.25, 0.25, undefined]);
    expect(window(rest)).toEqual([85, 185, 280, 265]);
    expect(rest.weighing.mean).toBe(790);
    // From 240 on for 0.25 s: four means of 801 N and one of 799 N.
    expect(one.facts.holdSway).toBeCloseTo(Math.sqrt((4 * 0.4 ** 2 + 1.6 ** 2) / 4), 9);
    expect(one.uStart).toBeGreaterThan(0);
    // It counts as long as it was, and never for half of what is needed or more.
    const longer = brief(200, 40, { ...SJ, choices: [["q12-hold", 2]] });
    restBefore(longer, 330);
    expect(longer.facts.holdSeconds).toBe(0.4);
    // The stand has to be long enough to weigh: half a second, and still enough.
    const before = (standing: readonly Piece[]): Trial => trial([[100, shaking(790, 300)], ...standing, [40, shaking(790, 300)], [40, swaying(800, 1)], [50, 1600]], SJ);
    for (const [samples, weight] of [[65, 790], [64, undefined]] as const) {
      const other = before([[samples, 790]]);
      restBefore(other, 180 + samples);
      expect(other.weight?.value).toBe(weight);
    }
    const restless = before([[150, swaying(790, 14)]]);
    expect(restBefore(restless, 330)).toBeUndefined();
    expect(restless.weight).toBeUndefined();
    // A weight by hand tells which stand is meant.
    const two: readonly Piece[] = [[150, 790], [150, 600], [20, 300], [20, 1100], [40, swaying(800, 1)], [50, 1600]];
    for (const [adjust, start] of [["bodyWeight=800", 35], ["", 185]] as const) {
      const other = trial(two, { ...SJ, adjust, choices: [["q1-shortest-given", 1]] });
      restBefore(other, 380);
      expect(other.weighing?.start).toBe(start);
    }
    // Nothing but the short hold: no weight.
    const alone = trial([[40, shaking(800, 300)], [40, 800], [50, 1600]], SJ);
    expect(restBefore(alone, 130)).toBeUndefined();
    expect(alone.facts.noQuietStand).toBe(true);
    const given = trial([[40, shaking(800, 300)], [40, 800], [50, 1600]], { ...SJ, adjust: "bodyWeight=805" });
    expect(window(restBefore(given, 130))).toEqual([40, 65, 80, 65]);
  });
});

const STILL = { start: 0, end: 100, mean: 800, sd: 0, sway: 0, halfDifference: 0, noise: 0, impulseSd: 0 } as const;

describe("the limit of the onset", () => {
  function rule(setting: string, choice: string | undefined, sd: number, weight = 800, more: { step?: number; rounding?: number } = {}, choices: readonly Choice[] = []): { rule: ReturnType<typeof onsetRuleOf>; facts: Trial["facts"] } {
    const one = trial([[200, weight]], { protocol: "CMJ", choices: [...(choice === undefined ? [] : [[setting, choice] as const]), ...choices] }, more);
    one.setWeight(undefined, weight);
    return { rule: onsetRuleOf(one, setting, { ...STILL, mean: weight, sd }), facts: one.facts };
  }

  test.each([
    // Owen et al. (2014): 30 ms before the force leaves five standard deviations.
    [undefined, 3, { limit: 15, duration: 0.01, stepBack: 0.03 }],
    ["5 SD", 3, { limit: 15, duration: 0.01, stepBack: 0 }],
    // Not less than 1 N, not more than 5 per cent of body weight.
    ["5 SD", 0.1, { limit: 1, duration: 0.01, stepBack: 0 }],
    ["5 SD", 9, { limit: 40, duration: 0.01, stepBack: 0 }],
    ["2.5 % BW", 3, { limit: 20, duration: 0.01, stepBack: 0 }],
    ["fixed force", 3, { limit: 20, duration: 0.01, stepBack: 0 }],
    ["backward 1 SD", 3, { limit: 15, duration: 0.01, stepBack: 0, inner: 3 }],
    ["backward 1 SD", 0.5, { limit: 2.5, duration: 0.01, stepBack: 0, inner: 1 }],
  ] as const)("%s, with a spread of %s N", (choice, sd, expected) => {
    expect(rule("onset-rule", choice, sd).rule).toEqual(expected);
  });

  test("is not finer than the steps of the force", () => {
    expect(rule("onset-rule", "5 SD", 0.1, 800, { step: 2.5 }).rule.limit).toBe(2.5);
    expect(rule("onset-rule", "5 SD", 0.1, 800, { rounding: 4, step: 2 }).rule.limit).toBe(4);
    expect(rule("onset-rule", "2.5 % BW", 3, 100, { step: 3 }).rule.limit).toBe(3);
    expect(rule("onset-rule", "backward 1 SD", 2, 800, { step: 6 }).rule).toEqual({ limit: 10, duration: 0.01, stepBack: 0, inner: 6 });
  });

  test("follows the settings of its own test, its force and its duration", () => {
    expect(rule("squat-onset-rule", undefined, 3).rule.stepBack).toBe(0);
    expect(rule("onset-rule", "fixed force", 3, 800, {}, [["onset-force", 33], ["onset-duration", 0.02]]).rule).toEqual({ limit: 33, duration: 0.02, stepBack: 0 });
  });

  test("says what five standard deviations would be, and what was used", () => {
    expect(rule("onset-rule", "5 SD", 9).facts).toMatchObject({ onsetLimit: 45, onsetLimitUsed: 40 });
    expect(rule("onset-rule", "5 SD", 0.1).facts).toMatchObject({ onsetLimit: 1, onsetLimitUsed: 1 });
    expect(rule("onset-rule", "2.5 % BW", 9).facts.onsetLimit).toBeUndefined();
  });
});

describe("the first sample of a movement", () => {
  // A short twitch before the movement: found by the search that looks forward, passed over by the one that looks back.
  const pieces: readonly Piece[] = [[150, 800], [4, 700], [46, 800], [50, 600]];
  const rest: Rest = { weighing: STILL, steadyUntil: 210, from: 130 };

  test.each([
    ["backward", 0.01, 200],
    ["forward", 0.01, 150],
    ["forward", 0.04, 150],
    ["forward", 0.05, 200],
  ] as const)("searching %s, for %s s outside", (search, duration, expected) => {
    const one = trial(pieces, { protocol: "CMJ", choices: [["onset-search", search]] });
    one.setWeight(undefined, 800);
    expect(onsetSample(one, rest, { limit: 20, duration, stepBack: 0 }, 250)).toBe(expected);
  });

  test("is not sought before where the person was last steady, nor after the end", () => {
    const one = trial(pieces);
    one.setWeight(undefined, 800);
    const rule = { limit: 20, duration: 0.01, stepBack: 0 };
    // Steady until before where the window ends: from there on.
    expect(onsetSample(one, { weighing: STILL, steadyUntil: 120, from: 130 }, rule, 250)).toBe(150);
    expect(onsetSample(one, { weighing: STILL, steadyUntil: 160, from: 130 }, rule, 190)).toBeUndefined();
    const forward = trial(pieces, { protocol: "CMJ", choices: [["onset-search", "forward"]] });
    forward.setWeight(undefined, 800);
    expect(onsetSample(forward, { weighing: STILL, steadyUntil: 160, from: 155 }, rule, 190)).toBeUndefined();
  });
});
