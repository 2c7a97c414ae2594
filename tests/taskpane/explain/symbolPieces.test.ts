import { describe, expect, test } from "vitest";
import { symbolPieces } from "../../../taskpane/explain/symbolPieces.ts";

describe("symbolPieces", () => {
  test("lowers an index and raises a power", () => {
    expect(symbolPieces("v_TO^2 / (2 g)")).toEqual([{ text: "v", shift: "none" }, { text: "TO", shift: "lowered" }, { text: "2", shift: "raised" }, { text: " / (2 g)", shift: "none" }]);
  });
  test("writes a minus and a less-or-equal as such, and leaves the hyphen of a word alone", () => {
    expect(symbolPieces("a - b <= take-off").map(({ text }) => text).join("")).toBe("a \u2212 b \u2264 take-off");
  });
});
