import { describe, expect, test } from "vitest";
import { METRICS } from "../../../src/catalogue/metrics.ts";
import { REFERENCES } from "../../../src/catalogue/references.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { EN } from "../../../src/wording/en/en.ts";
import { explain, sourcesOf } from "../../../src/wording/explain.ts";

describe("explain", () => {
  test("says what a metric is, what it assumes, what to watch for and who published it", () => {
    const text = explain("jump height (flight time) cm");
    expect(text).toMatch(/^Jump height \(flight time\) \(cm\): Rise of the centre of mass/);
    expect(text).toMatch(/Assumes: .* Watch for: .* Source: Linthorne \(2001\)/);
  });

  test("adds what the forms in a name mean", () => {
    expect(explain("peakForceLeftRelative")).toMatch(/left foot alone.*kilogram of body mass/);
    expect(explain("brakingImpulseAsymmetry")).toMatch(/gross.*positive when left is higher/);
  });

  test("knows every metric, setting, rule and test", () => {
    for (const { id } of METRICS) expect(explain(id).length).toBeGreaterThan(60);
    for (const { id, label } of SETTINGS) expect(explain(id), id).toContain(label);
    for (const id of TESTS) expect(explain(id)).toMatch(/Stop at once/);
    expect(explain("Q9")).toMatch(/^Q9, Two heights: .*q9-note/);
    expect(explain("symmetry angle")).toMatch(/atan/);
  });

  test("knows the terms of the trade by any of their names", () => {
    expect(explain("EUR")).toMatch(/^Eccentric utilisation ratio: .*McGuigan et al\. \(2006\)/);
    expect(explain("eccentric utilization ratio")).toBe(explain("EUR"));
    expect(explain("t-score")).toMatch(/50 \+ 10 z/);
    for (const { names, text } of EN.terms) {
      for (const name of names) expect(explain(name), name).toContain(text);
    }
  });

  test("cites for terms only sources that exist", () => {
    for (const { sources } of EN.terms) for (const key of sources) expect(REFERENCES).toHaveProperty([key]);
  });

  test("answers an unknown name with near ones", () => {
    expect(() => explain("jumpheigth")).toThrow(expect.objectContaining({ code: "unknown-name", message: expect.stringMatching(/jumpHeight/) }));
    expect(() => explain("take-of-treshold")).toThrow(/take-off-threshold/);
  });
});

describe("sourcesOf", () => {
  test("gives the references of a metric, a setting, and a key", () => {
    expect(sourcesOf("rsiModified").join(" ")).toMatch(/Ebben/);
    expect(sourcesOf("take-off-threshold").join(" ")).toMatch(/Pérez-Castilla/);
    expect(sourcesOf("moir2008")).toHaveLength(1);
  });

  test("says so where a choice is common practice", () => {
    expect(sourcesOf("q4-drift")).toEqual(["Common practice; no source."]);
  });
});
