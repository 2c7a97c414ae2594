import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { demoAthletes, demoTrials } from "../../../taskpane/workbook/demoSession.ts";

describe("demoTrials", () => {
  test("gives a dozen trials of three tests, each in one cell of at most 20,000 characters", () => {
    const trials = demoTrials();
    expect(trials.map(({ protocol }) => protocol.test).sort().join(" ")).toBe("CMJ CMJ CMJ CMJ DJ DJ DJ DJ SJ SJ SJ SJ");
    for (const { trace, athlete, protocol } of trials) {
      const packed = "plates" in trace ? packTrace(trace) : [];
      expect(packed, `${athlete} ${protocol.test}`).toHaveLength(1);
      expect(packed[0]!.length).toBeLessThan(20_000);
    }
  });

  test("says of every athlete that they are invented", () => {
    expect(demoAthletes().every((row) => row[4] === "invented")).toBe(true);
  });
});
