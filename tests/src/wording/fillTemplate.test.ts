import { describe, expect, test } from "vitest";
import { fillTemplate, keysOf } from "../../../src/wording/fillTemplate.ts";

describe("fillTemplate", () => {
  test("prints numbers with the decimals and the factor of the template", () => {
    expect(fillTemplate("{a:1} N, {b*100:1} cm, {c}", { a: 7.26, b: 0.0294, c: "left" })).toBe("7.3 N, 2.9 cm, left");
  });

  test("prints a number without a format as shortly as says it", () => {
    expect(fillTemplate("{a} {b} {c}", { a: 20, b: 0.05, c: 1 / 3 })).toBe("20 0.05 0.3333");
  });

  test("never prints minus zero", () => {
    expect(fillTemplate("{a:1} {a}", { a: -0.00001 })).toMatch(/^0\.0 /);
  });

  test("leaves out a part in brackets whose value is missing, and only then", () => {
    expect(fillTemplate("x[ (left {l:0}, right {r:0})].", { l: 3 })).toBe("x.");
    expect(fillTemplate("x[ (left {l:0}, right {r:0})].", { l: 3, r: 4 })).toBe("x (left 3, right 4).");
  });

  test("says so where a value outside brackets is missing, and never prints NaN", () => {
    expect(fillTemplate("{a:1} N", {})).toBe("an unknown value N");
    expect(fillTemplate("{a:1} N", { a: NaN })).toBe("an unknown value N");
  });

  test("writes the decimal mark of the language, in rounded and in plain numbers, and leaves texts alone", () => {
    expect(fillTemplate("{a:1} N, {b} s of {c}", { a: 1234.56, b: 0.125, c: "3.5 kg" }, ",")).toBe("1234,6 N, 0,125 s of 3.5 kg");
  });

  test("lists the keys of a template once", () => {
    expect(keysOf("{a:1} [{b*100:1}] {a}")).toEqual(["a", "b"]);
  });
});
