import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { dropHeightProfile } from "../../../src/statistics/dropHeightProfile.ts";

describe("dropHeightProfile", () => {
  const points = Object.freeze(
    [
      { nominalHeight: 0.45, height: 0.3, contactTime: 0.21, rsi: 1.43, count: 3 },
      { nominalHeight: 0.2, height: 0.26, contactTime: 0.19, rsi: 1.37, count: 3 },
      { nominalHeight: 0.3, measuredHeight: 0.27, height: 0.31, contactTime: 0.19, rsi: 1.63, count: 3 },
      { nominalHeight: 0.6, height: 0.33, contactTime: 0.26, rsi: 1.7, count: 3 },
    ].map((point) => Object.freeze(point)),
  );

  test("sorts by height and takes the highest index among fast contacts", () => {
    const profile = dropHeightProfile(points);
    expect(profile.points.map((point) => point.nominalHeight)).toEqual([0.2, 0.3, 0.45, 0.6]);
    expect(profile.best).toBe(1);
    expect(profile.points[3].fast).toBe(false);
  });

  // By hand: norm.ppf(0.975) * 0.1 * sqrt(2/3) = 0.16003; gaps 0.26 and 0.20.
  test("is decided where every gap exceeds 1.96 typical errors of the difference", () => {
    const profile = dropHeightProfile(points, { typicalError: 0.1 });
    expect(profile.points[0].leastGap).toBeCloseTo(1.959963984540054 * 0.1 * Math.sqrt(2 / 3), 10);
    expect([profile.decided, profile.alike]).toEqual([true, [1]]);
  });

  // By hand: 1.96 * 0.15 * sqrt(2/3) = 0.24005 lies between the two gaps.
  test("names the heights that cannot be told from the best", () => {
    const profile = dropHeightProfile(points, { typicalError: 0.15 });
    expect([profile.decided, profile.alike]).toEqual([false, [1, 2]]);
  });

  test("decides nothing without a typical error", () => {
    const profile = dropHeightProfile(points);
    expect(profile.decided).toBeUndefined();
    expect(profile.alike).toEqual([0, 1, 2]);
  });

  test("says by which component the index falls above the best height", () => {
    expect(dropHeightProfile(points).fallsBy).toBe("both");
    const shorter = [points[1], points[2], { ...points[0], contactTime: 0.19, height: 0.27 }];
    expect(dropHeightProfile(shorter).fallsBy).toBe("lower jump");
  });

  test("a contact as long as the limit is not fast", () => {
    expect(dropHeightProfile(points.slice(0, 2), { fastContact: 0.21 }).points.map((point) => point.fast)).toEqual([true, false]);
  });

  test("has no best height where no contact is fast", () => {
    const profile = dropHeightProfile(points.map((point) => ({ ...point, contactTime: 0.3 })));
    expect(profile.best).toBeUndefined();
    expect(profile.alike).toEqual([]);
  });

  test("calls equal heights different in about 5 of 100 simulated pairs", () => {
    const normal = normalFrom(seededRandom(41));
    let decided = 0;
    for (let run = 0; run < 5000; run++) {
      const pair = [0.2, 0.4].map((nominalHeight) => ({ nominalHeight, contactTime: 0.2, rsi: 1.5 + 0.1 * normal() }));
      if (dropHeightProfile(pair, { typicalError: 0.1 }).decided) decided++;
    }
    expect(Math.abs(decided / 5000 - 0.05)).toBeLessThan(0.01);
  });

  test("refuses one height, a height twice, and times that are not positive", () => {
    expect(() => dropHeightProfile([points[0]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => dropHeightProfile([points[0], points[0]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => dropHeightProfile([points[0], { ...points[1], contactTime: 0 }])).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => dropHeightProfile([points[0], { ...points[1], rsi: NaN }])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });

  const at = (nominalHeight: number, rsi: number, more: { height?: number; contactTime?: number; count?: number } = {}) => ({ nominalHeight, rsi, contactTime: 0.2, ...more });

  test("keeps the lowest height as the best where the index falls from there on", () => {
    const profile = dropHeightProfile([at(0.2, 1.8), at(0.3, 1.6), at(0.4, 1.5)], { typicalError: 0.01 });
    expect([profile.best, profile.decided, profile.alike]).toEqual([0, true, [0]]);
    expect(profile.points[0]).toEqual({ nominalHeight: 0.2, rsi: 1.8, contactTime: 0.2, count: 1, fast: true, gap: 0, leastGap: undefined });
    expect(profile.points.map((point) => point.gap)).toEqual([0, expect.closeTo(0.2, 12), expect.closeTo(0.3, 12)]);
  });

  test("of equal heights the lower box is the best", () => {
    expect(dropHeightProfile([at(0.3, 1.6), at(0.2, 1.6)]).best).toBe(0);
  });

  // The gap is exactly the least gap: that is not above it.
  test("a gap as large as chance allows does not decide", () => {
    const leastGap = dropHeightProfile([at(0.2, 1), at(0.3, 0)], { typicalError: 0.1 }).points[1]!.leastGap!;
    expect(dropHeightProfile([at(0.2, leastGap), at(0.3, 0)], { typicalError: 0.1 })).toMatchObject({ decided: false, alike: [0, 1] });
    expect(dropHeightProfile([at(0.2, leastGap + 1e-9), at(0.3, 0)], { typicalError: 0.1 })).toMatchObject({ decided: true, alike: [0] });
  });

  test("keeps every height where no contact is fast", () => {
    expect(dropHeightProfile([at(0.3, 1, { contactTime: 0.4, height: 0.2 }), at(0.2, 2, { contactTime: 0.3 })])).toEqual({
      points: [{ nominalHeight: 0.2, rsi: 2, contactTime: 0.3, count: 1, fast: false }, { nominalHeight: 0.3, rsi: 1, contactTime: 0.4, height: 0.2, count: 1, fast: false }],
      alike: [],
    });
  });

  test.each([
    ["nothing where the best is the highest box", [at(0.2, 1), at(0.3, 2)], undefined],
    ["nothing where the next height is as good", [at(0.2, 2), at(0.3, 2, { contactTime: 0.22 })], undefined],
    ["the contact where it alone changed", [at(0.2, 2, { height: 0.3 }), at(0.3, 1, { contactTime: 0.22, height: 0.3 })], "longer contact"],
    ["the contact where no height is known", [at(0.2, 2), at(0.3, 1, { contactTime: 0.22 })], "longer contact"],
    ["the contact where one height is not known", [at(0.2, 2), at(0.3, 1, { contactTime: 0.22, height: 0.1 })], "longer contact"],
    ["the contact where the other height is not known", [at(0.2, 2, { height: 0.3 }), at(0.3, 1, { contactTime: 0.22 })], "longer contact"],
    ["the jump where it alone changed", [at(0.2, 2, { height: 0.3 }), at(0.3, 1, { height: 0.29 })], "lower jump"],
    ["nothing where neither changed", [at(0.2, 2, { height: 0.3 }), at(0.3, 1, { height: 0.3 })], undefined],
  ])("names as what the index falls by %s", (_what, given, fallsBy) => {
    expect(dropHeightProfile(given).fallsBy).toBe(fallsBy);
  });

  test("refuses a typical error or limit that is none, and no trials", () => {
    expect(() => dropHeightProfile([at(0.2, 1), at(0.3, 2)], { typicalError: 0 })).toThrow("a typical error");
    expect(() => dropHeightProfile([at(0.2, 1), at(0.3, 2)], { fastContact: 0 })).toThrow("a contact limit");
    expect(() => dropHeightProfile([at(0.2, 1, { count: 0 }), at(0.3, 2)])).toThrow("the number of trials");
  });
});
