import { describe, expect, test } from "vitest";
import { answerKey } from "../../../src/coursework/answerKey.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { markAnswer } from "../../../src/coursework/markAnswer.ts";
import { questionsOf } from "../../../src/coursework/questionsOf.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { textsOf } from "../../../src/wording/textsOf.ts";

const { truth, events } = syntheticTrial({ test: "CMJ", leftShare: 0.53 });
const facts = { truth, gravity: 9.80665, offset: 14, takeoff: events.takeoff };
const keyOf = (metric: string) => answerKey(questionsOf("CMJ").find((question) => question.metric === metric)!, facts);

describe("markAnswer", () => {
  // By hand from the default jump: flight 0.530252 s, v 2.6 m/s, h 0.344664 m, BW 735.49875 N, peak 1897.951 N,
  // propulsion 195 N s in 0.265 s, asymmetry 100 (0.53 - 0.47) = 6 %.
  test.each([
    ["jumpHeightFlightTime", 0.345, "right", undefined],
    ["jumpHeightFlightTime", 0.530252 ** 2 / 8, "mistake", "gravityLeftOut"],
    ["jumpHeightFlightTime", (9.81 * 0.530252 ** 2) / 2, "mistake", "wholeFlightAsRise"],
    ["jumpHeightFlightTime", (9.81 * (0.530252 / 2) ** 2) / 8, "mistake", "halvedTwice"],
    ["jumpHeightFlightTime", 34.5, "mistake", "timesHundred"],
    ["jumpHeightTakeoffVelocity", 2.6 ** 2 / 2, "mistake", "gravityLeftOut"],
    ["jumpHeightTakeoffVelocity", 2.6 ** 2 / 9.81, "mistake", "factorTwoLeftOut"],
    ["flightTime", 0.265, "mistake", "halfOfFlight"],
    ["flightTime", 530, "mistake", "timesThousand"],
    ["bodyMass", 735.5, "mistake", "gravityLeftOut"],
    ["bodyWeight", 749.5, "mistake", "zeroNotTaken"],
    ["peakForce", 1897.951 - 735.499, "mistake", "netForGross"],
    ["propulsionImpulse", 195 + 735.499 * 0.265, "mistake", "grossForNet"],
    ["meanForcePropulsionAsymmetry", 6.1, "right", undefined],
    ["meanForcePropulsionAsymmetry", 0.06, "mistake", "ratioForPercent"],
    ["meanForcePropulsionAsymmetry", 11.32, "mistake", "denominatorLarger"],
    ["meanForcePropulsionAsymmetry", 12, "mistake", "denominatorMean"],
    ["meanForcePropulsionAsymmetry", -6, "mistake", "sign"],
    ["countermovementDepth", 0.347, "mistake", "sign"],
    ["rsiModified", 0.530252 / 0.745, "mistake", "flightForHeight"],
    ["bodyWeight", 500, "wrong", undefined],
  ] as const)("of %s = %d is %s (%s)", (metric, answer, outcome, mistake) => {
    const mark = markAnswer(answer, keyOf(metric));
    expect(mark.outcome).toBe(outcome);
    expect(mark.mistake).toBe(mistake);
    expect(mark.message.length).toBeGreaterThan(5);
  });

  test("reads text that is a number, and says blank or not a number otherwise", () => {
    const key = keyOf("bodyWeight");
    expect(markAnswer("735,5", key).outcome).toBe("right");
    expect(markAnswer(" 735.5 ", key).outcome).toBe("right");
    for (const blank of ["", "  ", null, undefined]) expect(markAnswer(blank, key).outcome).toBe("blank");
    for (const other of ["735.5 N", NaN, true]) expect(markAnswer(other, key).outcome).toBe("not a number");
  });

  test("says when the answer cell is itself a formula of this add-in", () => {
    const key = keyOf("bodyWeight");
    expect(markAnswer(735.5, key, '=ROUND(LEAP.METRIC(A1,"CMJ","bodyWeight"),1)')).toMatchObject({ outcome: "right", byFunction: true });
    expect(markAnswer(735.5, key, "=_xldudf_LEAP_METRIC(A1)").byFunction).toBe(true);
    expect(markAnswer(735.5, key, "=AVERAGE(A1:A9)").byFunction).toBe(false);
    expect(markAnswer(735.5, key, "=leapYear(A1)").byFunction).toBe(false);
  });

  test("has a sentence for every mistake that any question can lead to", () => {
    const sentences = textsOf().coursework;
    for (const name of TESTS) {
      const { keys } = makeCoursework({ test: name, students: ["a", "b", "c"], faults: ["offset", "bentLanding"], noise: 1, seed: 5 });
      for (const { mistakes } of keys.flatMap(({ answers }) => answers)) {
        for (const { id } of mistakes) expect(sentences, id).toHaveProperty([id]);
      }
    }
  });

  test("finds each exact answer right and each mistake a mistake, for every test", () => {
    for (const name of TESTS) {
      const { keys } = makeCoursework({ test: name, students: ["a", "b", "c", "d", "e"], faults: ["offset", "bentLanding"], noise: 1, seed: 9 });
      for (const key of keys.flatMap(({ answers }) => answers)) {
        expect(markAnswer(key.value, key).outcome).toBe("right");
        for (const { value } of key.mistakes) expect(markAnswer(value, key).outcome).toBe("mistake");
      }
    }
  });
});
