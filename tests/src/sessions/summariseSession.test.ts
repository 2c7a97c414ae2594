import { describe, expect, test } from "vitest";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import type { SessionTrial } from "../../../src/sessions/summariseSession.ts";
import { summariseSession } from "../../../src/sessions/summariseSession.ts";

const trial = (name: string, height: number | undefined, more: Partial<SessionTrial> = {}): SessionTrial => ({
  name,
  protocol: parseProtocol("CMJ arms=hips"),
  verdict: "keep",
  metrics: new Map(height === undefined ? [] : [["jumpHeight", height]]),
  ...more,
});
const height = { id: "jumpHeight", better: "higher" } as const;
const meanOfThree = { rule: "mean", trials: 3 } as const;

describe("summariseSession", () => {
  test("averages the first valid trials and keeps the ones left out with their reason", () => {
    const session = summariseSession(
      [
        trial("1", 0.38),
        trial("2", 0.2, { verdict: "leave out", reason: "no quiet stand" }),
        trial("3", 0.36, { verdict: "look" }),
        trial("4", 0.37, { choice: "leave out", reason: "stumbled" }),
        trial("5", 0.4),
      ],
      [height],
      meanOfThree,
    );
    // By hand: (0.38 + 0.36 + 0.40) / 3.
    expect(session.values.get("jumpHeight")!.value).toBeCloseTo(0.38, 12);
    expect(session.used).toEqual(["1", "3", "5"]);
    expect(session.doubtful).toEqual(["3"]);
    expect(session.leftOut).toEqual([
      { name: "2", reason: "no quiet stand" },
      { name: "4", reason: "stumbled" },
    ]);
  });

  test("a trial that cannot give a metric counts for the others only", () => {
    const session = summariseSession([trial("1", 0.38), trial("2", undefined), trial("3", 0.36)], [height, { id: "rsi", better: "higher" }], meanOfThree);
    expect(session.values.get("jumpHeight")).toMatchObject({ count: 2, short: true });
    expect(session.values.has("rsi")).toBe(false);
    expect(session.missing.get("rsi")).toMatch(/at least one valid trial/);
  });

  test("asks about a trial far from the others and names its place among the used ones", () => {
    const session = summariseSession(
      [trial("1", 0.38), trial("2", undefined), trial("3", 0.3), trial("4", 0.385), trial("5", 0.375)],
      [{ ...height, typicalError: 0.01 }],
      meanOfThree,
    );
    const far = session.findings.filter((finding) => finding.action === "look");
    expect(far).toHaveLength(1);
    expect(far[0]).toMatchObject({ rule: "Q25", metric: "jumpHeight", trial: 2 });
    expect(session.used[far[0].trial!]).toBe("3");
  });

  test("compares the peaks of isometric pulls", () => {
    const pull = (name: string, peak: number): SessionTrial => trial(name, undefined, { protocol: parseProtocol("IMTP"), metrics: new Map([["peakForce", peak]]) });
    const session = summariseSession([pull("1", 2500), pull("2", 2100)], [{ id: "peakForce", better: "higher" }], meanOfThree);
    expect(session.findings).toMatchObject([{ rule: "Q20", action: "look", metric: "peakForce", values: { difference: 400 } }]);
  });

  test("refuses trials of unlike protocols with the trial and the reason, and an empty session", () => {
    expect(() => summariseSession([trial("1", 0.38), trial("b.csv", 0.4, { protocol: parseProtocol("CMJ arms=swing") })], [height], meanOfThree)).toThrow(
      expect.objectContaining({ name: "InputError", code: "not-available", message: expect.stringMatching(/arms/), where: "b.csv" }),
    );
    expect(() => summariseSession([], [height], meanOfThree)).toThrow(expect.objectContaining({ code: "not-available" }));
  });
});
