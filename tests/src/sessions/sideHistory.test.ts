import { describe, expect, test } from "vitest";
import { sideHistory } from "../../../src/sessions/sideHistory.ts";

describe("sideHistory", () => {
  test("counts the sessions with the side of the latest one", () => {
    const history = sideHistory(Object.freeze([4, -2, 3, 5, 6]), 5);
    expect(history).toEqual({ side: "left", sessions: 5, sameSide: 4, inARow: 3, mean: 3.2 });
  });

  test("looks at the last sessions only", () => {
    expect(sideHistory([-9, -9, -9, 1, 2], 2)).toMatchObject({ side: "left", sessions: 2, sameSide: 2, inARow: 2, mean: 1.5 });
  });

  test("turns round with the signs", () => {
    expect(sideHistory([-4, 2, -3])).toMatchObject({ side: "right", sameSide: 2, inARow: 1 });
  });

  test("keeps equal sides apart from both", () => {
    expect(sideHistory([3, 0])).toMatchObject({ side: "neither", sameSide: 1 });
  });

  test("refuses an empty history", () => {
    expect(() => sideHistory([])).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
    expect(() => sideHistory([NaN])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
