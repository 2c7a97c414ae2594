import { describe, expect, test } from "vitest";
import { likeProtocols } from "../../../src/protocols/likeProtocols.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";

const reason = (a: string, b: string, except?: Parameters<typeof likeProtocols>[2]) => likeProtocols(parseProtocol(a), parseProtocol(b), except);

describe("likeProtocols", () => {
  test("finds equal texts alike, an unstated limb both, an unstated load none", () => {
    expect(reason("DJ drop=0.30 arms=hips", "DJ arms=hips drop=0.3")).toBeUndefined();
    expect(reason("CMJ", "CMJ limb=both load=0")).toBeUndefined();
  });

  test.each([
    ["CMJ", "SJ", "tests"],
    ["DJ drop=0.30", "DJ drop=0.40", "drop heights"],
    ["DJ drop=0.30", "DJ", "drop heights stated in one protocol only"],
    ["CMJ arms=hips", "CMJ arms=swing", "arms"],
    ["CMJ arms=hips", "CMJ", "arms stated in one protocol only"],
    ["CMJ limb=left", "CMJ", "limbs"],
    ["CMJ load=20", "CMJ", "loads"],
  ])("says why %j and %j are unlike, both ways round", (a, b, words) => {
    expect(reason(a, b)).toContain(words);
    expect(reason(b, a)).toContain(words);
  });

  test("leaves out the parts that are meant to differ", () => {
    expect(reason("CMJ arms=hips", "SJ arms=hips", ["test"])).toBeUndefined();
    expect(reason("CMJ arms=hips", "SJ arms=swing", ["test"])).toContain("arms");
  });

  test("shows both with their units, and the one that is stated alone", () => {
    expect(reason("DJ drop=0.30", "DJ drop=0.40")).toBe("drop heights differ: 0.3 m and 0.4 m");
    expect(reason("DJ", "DJ drop=0.40")).toBe("drop heights stated in one protocol only (0.4 m)");
    expect(reason("CMJ load=20", "CMJ")).toBe("loads differ: 20 kg and 0 kg");
    expect(reason("CMJ limb=left", "CMJ")).toBe("limbs differ: left and both");
    expect(reason("CMJ", "CMJ arms=swing")).toBe("arms stated in one protocol only (swing)");
    expect(reason("CMJ", "SJ")).toBe("tests differ: CMJ and SJ");
  });

  test("takes numbers that differ by rounding for the same", () => {
    expect(likeProtocols({ test: "DJ", dropHeight: 0.1 + 0.2 }, { test: "DJ", dropHeight: 0.3 })).toBeUndefined();
    expect(likeProtocols({ test: "DJ", dropHeight: 0.3 + 1e-9 }, { test: "DJ", dropHeight: 0.3 })).toBeDefined();
  });
});
