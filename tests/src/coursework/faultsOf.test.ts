import { describe, expect, test } from "vitest";
import { COURSEWORK_FAULTS } from "../../../src/coursework/Coursework.ts";
import { faultsOf } from "../../../src/coursework/faultsOf.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";

const recording = (name: (typeof TESTS)[number], fault: (typeof COURSEWORK_FAULTS)[number] | undefined) => {
  const { assignments } = makeCoursework({ test: name, students: ["Ann"], faults: fault === undefined ? [] : [fault], noise: 0, seed: 11 });
  return assignments[0].trace.plates.map(({ force }) => Array.from(force));
};

describe("faultsOf", () => {
  // Law: a fault is offered exactly where it changes the recording. The seed decides the motion, and a fault may draw from it: only what is offered is compared.
  test.each(TESTS)("offers only faults that change a recording of %s", (name) => {
    for (const fault of faultsOf(name)) expect(recording(name, fault), fault).not.toEqual(recording(name, undefined));
  });

  test("keeps the dip to squat jumps and the landing to jumps", () => {
    expect(TESTS.filter((name) => faultsOf(name).includes("dip"))).toEqual(["SJ"]);
    expect(TESTS.filter((name) => faultsOf(name).includes("bentLanding"))).toEqual(["CMJ", "SJ", "DJ"]);
    expect(faultsOf("IMTP")).toEqual(["offset", "drift", "sway"]);
  });
});
