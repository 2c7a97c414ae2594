import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { DEMO_DATE, demoAthletes, demoRecord, demoTrials } from "../../../taskpane/workbook/demoSession.ts";

describe("demoTrials", () => {
  test("gives four people a trial of three tests and two of them three, each in one cell of at most 20,000 characters", () => {
    const trials = demoTrials();
    const today = trials.filter(({ date }) => date === DEMO_DATE);
    expect(today.slice(0, 12).map(({ protocol }) => protocol.test).sort().join(" ")).toBe("CMJ CMJ CMJ CMJ DJ DJ DJ DJ SJ SJ SJ SJ");
    expect([today.length, trials.length, new Set(trials.map(({ hash }) => hash)).size]).toEqual([24, 28, 28]);
    for (const name of ["Robin Vale", "Ida Fenn"]) for (const test of ["CMJ", "SJ", "DJ"]) expect(today.filter(({ athlete, protocol }) => athlete === name && protocol.test === test)).toHaveLength(3);
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

describe("demoRecord", () => {
  test("holds six earlier days of everybody, invented and said to be", () => {
    const rows = demoRecord();
    expect(new Set(rows.map(({ date }) => date)).size).toBe(6);
    expect(rows.every(({ date, settingsDigest, key }) => date < DEMO_DATE && settingsDigest === "invented" && key.startsWith("invented-"))).toBe(true);
    expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length);
    expect(demoRecord()).toEqual(rows);
  });
  test("holds a change of protocol, a doubtful trial and one that was left out", () => {
    const rows = demoRecord();
    expect(new Set(rows.filter(({ athlete }) => athlete === "Sam Quill").map(({ protocol }) => protocol))).toContain("CMJ arms=swing");
    expect(new Set(rows.map(({ verdict }) => verdict))).toEqual(new Set(["keep", "look", "leave out"]));
  });
});
