import { describe, expect, test } from "vitest";
import fc from "fast-check";
import type { SettingDefinition } from "../../../src/settings/Settings.ts";
import { namesByPattern } from "../../../taskpane/pane/bringIn/namesByPattern.ts";
import { headsOf } from "../../../taskpane/pane/bringIn/recipes.ts";
import { timesRecordFrom, type TypedTimesFields } from "../../../taskpane/pane/bringIn/timesRecordFrom.ts";
import { groupTrials } from "../../../taskpane/pane/groupTrials.ts";
import { protocolWords } from "../../../taskpane/pane/protocolWords.ts";
import { settingRule, settingValueFrom } from "../../../taskpane/pane/settingValue.ts";
import { SI } from "../../../taskpane/pane/shownUnits.ts";
import { metricName } from "../../../taskpane/pane/texts.ts";
import { unitsOf, withUnits } from "../../../taskpane/pane/withUnits.ts";
import type { AnalysedTrial } from "../../../taskpane/pane/analyseTrial.ts";

const trial = (athlete: string, date: string, protocol: string, verdict: AnalysedTrial["verdict"], use: AnalysedTrial["use"] = "keep"): AnalysedTrial => ({
  row: { key: `${athlete}${date}${protocol}`, row: 1, athlete, date, protocol, test: "CMJ", adjust: "", keep: "", reason: "", file: "", startInFile: 0, rate: 1000, packed: [] },
  verdict, use, doubtful: verdict === "look", decidedBy: "verdict",
});

describe("groupTrials", () => {
  const trials = [trial("Noa", "2026-03-01", "CMJ", "keep"), trial("Ida", "2026-03-01", "SJ", "look"), trial("Noa", "2026-03-14", "CMJ", "leave out", "leave out"), trial("Noa", "2026-03-14", "CMJ", "keep")];

  test("puts athletes in alphabetical order and the newest date first", () => {
    const groups = groupTrials(trials, "all", "");
    expect(groups.map((group) => group.athlete)).toEqual(["Ida", "Noa"]);
    expect(groups[1].sets.map((set) => [set.date, set.trials.length])).toEqual([["2026-03-14", 2], ["2026-03-01", 1]]);
  });
  test("shows only what is doubtful, or only what is left out", () => {
    const count = (filter: "doubtful" | "left out"): number => groupTrials(trials, filter, "").flatMap((group) => group.sets.flatMap((set) => set.trials)).length;
    expect(count("doubtful")).toBe(2);
    expect(count("left out")).toBe(1);
  });
  test("finds athletes by a part of the name in any case", () => {
    expect(groupTrials(trials, "all", " no").map((group) => group.athlete)).toEqual(["Noa"]);
  });
  // Law: grouping loses and adds nothing.
  test("holds every trial exactly once", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.constantFrom("A", "B", ""), fc.constantFrom("2026-01-01", ""), fc.constantFrom("CMJ", "SJ")), { maxLength: 30 }), (list) => {
        const all = list.map(([athlete, date, protocol]) => trial(athlete, date, protocol, "keep"));
        const grouped = groupTrials(all, "all", "").flatMap((group) => group.sets.flatMap((set) => set.trials));
        expect(new Set(grouped).size).toBe(all.length);
        expect(grouped.length).toBe(all.length);
      }),
    );
  });
});

describe("withUnits", () => {
  test("writes the chosen units as suffixes and leaves texts and unknown names alone", () => {
    expect(withUnits(["verdict", "jumpHeight", "timeToTakeoff", "bodyMass", "peakForce", "my note"], { m: "cm", s: "ms", kg: "lb" })).toEqual(["verdict", "jumpHeight cm", "timeToTakeoff ms", "bodyMass lb", "peakForce", "my note"]);
  });
  test("takes a suffix off where the SI unit is chosen", () => {
    expect(withUnits(["jumpHeight cm"], { m: "m", s: "s", kg: "kg" })).toEqual(["jumpHeight"]);
  });
  test("does not touch metrics per kilogram or in percent", () => {
    expect(withUnits(["peakForceRelative", "propulsionImpulseAsymmetry"], { m: "cm", s: "ms", kg: "lb" })).toEqual(["peakForceRelative", "propulsionImpulseAsymmetry"]);
  });
});

describe("unitsOf", () => {
  test("reads the units that a head shows, and takes SI for the others", () => {
    expect(unitsOf(["verdict", "jumpHeight cm", "peakForceRelative", "timeToTakeoff", "my note"])).toEqual({ m: "cm", s: "s", kg: "kg" });
  });
  // Law: a head written in a choice of units shows that choice.
  test.each([["cm", "ms", "lb"], ["m", "s", "kg"], ["in", "ms", "kg"]] as const)("gives back what was written: %s, %s, %s", (m, s, kg) => {
    expect(unitsOf(withUnits(["jumpHeight", "timeToTakeoff ms", "bodyMass"], { m, s, kg }))).toEqual({ m, s, kg });
  });
});

describe("settingValueFrom", () => {
  const both: SettingDefinition = { id: "x", label: "X", default: 20, options: ["5 SD"], range: [5, 100], unit: "N", description: "", source: "" };
  test.each([["20", 20], ["20,5", 20.5], ["5 sd", "5 SD"], ["4", undefined], ["", undefined], ["many", undefined], ["0", undefined]])("reads %j as %j", (typed, value) => {
    expect(settingValueFrom(both, typed)).toBe(value);
  });
  test("says what a setting takes", () => {
    expect(settingRule(both)).toBe("a number from 5 to 100 N or 5 SD");
  });
});

describe("timesRecordFrom", () => {
  const empty: TypedTimesFields = { source: "mat", flight: "", contact: "", framesPerSecond: "", touchdownFrame: "", takeoffFrame: "", landingFrame: "" };
  test("reads times of a mat with a decimal comma", () => {
    expect(timesRecordFrom({ ...empty, flight: "0,512", contact: "0.21" }, true)).toEqual({ source: "mat", flight: 0.512, contact: 0.21 });
  });
  test("leaves the contact out of a test without one", () => {
    expect(timesRecordFrom({ ...empty, flight: "0.5", contact: "0.2" }, false)).toEqual({ source: "mat", flight: 0.5 });
  });
  // By hand: 120 frames at 240 per second are 0.5 s, 48 frames 0.2 s.
  test("turns frames into times", () => {
    expect(timesRecordFrom({ ...empty, source: "video", framesPerSecond: "240", touchdownFrame: "100", takeoffFrame: "148", landingFrame: "268" }, true)).toEqual({ source: "video", framesPerSecond: 240, flight: 0.5, contact: 0.2 });
  });
  test.each([
    [empty, "Typed times require a flight time or a contact time"],
    [{ ...empty, flight: "512" }, "Times require seconds, more than zero and below 5"],
    [{ ...empty, flight: "long" }, "Times require seconds, more than zero and below 5"],
    [{ ...empty, source: "video" as const }, "Frames require the frame rate at which the video was recorded"],
    [{ ...empty, source: "video" as const, framesPerSecond: "240", takeoffFrame: "9", landingFrame: "3" }, "Frames require touchdown before take-off and take-off before landing"],
  ])("says what is wrong with %j", (fields, sentence) => {
    expect(timesRecordFrom(fields, false)).toBe(sentence);
  });
});

describe("namesByPattern", () => {
  test("reads athlete, test and date, and the usual words for a test", () => {
    expect(namesByPattern("{athlete}_{test}_{date:ymd}_{trial}", "ida_fenn_squat_2026-03-14_2.csv")).toEqual({ athlete: "ida fenn", test: "SJ", date: "2026-03-14" });
  });
  test("leaves a test that it does not know to the person", () => {
    expect(namesByPattern("{athlete}-{test}", "ida-sprint.csv")).toEqual({ athlete: "ida" });
  });
  test("gives nothing for a name that does not follow the pattern", () => {
    expect(namesByPattern("{athlete}_{date:ymd}", "cmj1.csv")).toBeUndefined();
  });
});

describe("words of the trade", () => {
  test("a protocol reads as a sentence part", () => {
    expect(protocolWords("DJ drop=0.30 arms=hips limb=left load=20", SI)).toBe("Drop jump, hands on hips, left leg, from 0.30 m, with 20 kg");
    expect(protocolWords("not one", SI)).toBe("not one");
  });
  test("a metric carries its side and form", () => {
    expect(metricName("peakForceLeftRelative")).toBe("Peak force, left, per kilogram");
    expect(metricName("verdict")).toBe("verdict");
  });
});

describe("headsOf", () => {
  test("is the same for files of the same columns and another for others", () => {
    const column = (name: string) => ({ number: 1, name, unit: "N", preview: new Float64Array(0) });
    const one = headsOf({ format: "text", columns: [column("Fz L"), column("Fz R")] });
    expect(one).toBe(headsOf({ format: "text", columns: [column("Fz L"), column("Fz R")] }));
    expect(one).not.toBe(headsOf({ format: "text", columns: [column("Fz R"), column("Fz L")] }));
  });
});
