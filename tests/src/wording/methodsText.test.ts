import { describe, expect, test } from "vitest";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { methods, methodsText } from "../../../src/wording/methodsText.ts";

describe("methods", () => {
  test("names the choices of the settings used, with their sources", () => {
    const { paragraph, references } = methods(DEFAULT_SETTINGS, ["CMJ"], "0.1.0");
    expect(paragraph).toMatch(/^Vertical ground reaction forces of countermovement jumps were analysed with Leapsheet 0\.1\.0/);
    expect(paragraph).toMatch(/30 ms before the force left body weight by five standard deviations \(Owen et al\., 2014/);
    expect(paragraph).toMatch(/crossed 20 N \(Pérez-Castilla et al\., 2021\)/);
    expect(paragraph).not.toMatch(/\bdrop|squat jump|\bpull|\bhop/i);
    expect(references.join("\n")).toMatch(/Owen NJ et al\. \(2014\)/);
  });

  test("changes with a setting, and cites each named source once", () => {
    const { paragraph, references } = methods(settingsFrom([["take-off-threshold", "5 SD"], ["height-method", "flight time"]]), ["CMJ", "SJ"]);
    expect(paragraph).toMatch(/five standard deviations of the force of the empty plates/);
    expect(paragraph).toMatch(/from flight time/);
    expect(new Set(references).size).toBe(references.length);
  });

  test("speaks of a test only where it was done", () => {
    expect(methods(DEFAULT_SETTINGS, ["DJ"]).paragraph).toMatch(/velocity at touchdown/);
    expect(methods(DEFAULT_SETTINGS, ["IMTP"]).paragraph).not.toMatch(/Take-off|Jump height/);
    expect(methods(DEFAULT_SETTINGS, ["CMJ", "SJ", "RH"]).paragraph).toMatch(/of countermovement jumps, squat jumps and repeated hops/);
  });

  test("lists a changed setting that it has no sentence for, and no other", () => {
    const { paragraph } = methods(settingsFrom([["q9-look", 0.05], ["stiffness-form", "gross"], ["take-off-threshold", 10]]), ["CMJ"]);
    expect(paragraph).toMatch(/Other settings that differ from the defaults: stiffness-form = gross, q9-look = 0.05 m\.$/);
    expect(methods(DEFAULT_SETTINGS, TESTS).paragraph).not.toMatch(/Other settings/);
    expect(methods(settingsFrom([["stiffness-form", "gross"]]), ["IMTP"]).paragraph).not.toMatch(/Other settings/);
  });

  test("says every setting that is not at its default, one way or the other", () => {
    for (const { id, options = [], range, default: usual } of SETTINGS) {
      const value = [...options, ...(range ?? [])].find((choice) => choice !== usual)!;
      const changed = methods(settingsFrom([[id, value]]), TESTS).paragraph.replace(/settings [0-9a-f]+/, "");
      expect(changed, id).not.toBe(methods(DEFAULT_SETTINGS, TESTS).paragraph.replace(/settings [0-9a-f]+/, ""));
    }
  });

  test("leaves no place unfilled for any value of any setting", () => {
    for (const { id, options = [], range } of SETTINGS) {
      for (const value of [...options, ...(range ? [range[0]] : [])]) {
        expect(methodsText(settingsFrom([[id, value]]), TESTS), `${id} = ${value}`).not.toMatch(/[{}]|undefined|\[ /);
      }
    }
  });
});
