import { describe, expect, test } from "vitest";
import { columnName, splitUnit } from "../../../src/read/columnNames.ts";

describe("columnName", () => {
  test.each([
    ["Time", undefined, undefined, "time", undefined, undefined],
    ["SubTime", undefined, undefined, "time", undefined, undefined],
    ["Sub Frame", undefined, undefined, "counter", undefined, undefined],
    ["Sample", undefined, undefined, "counter", undefined, undefined],
    ["Fz", "N", "Plate 2 - Force", "force", "z", undefined],
    ["Fz_left", "V", "Voltage", "voltage", "z", "left"],
    ["ground_force_1_vy", undefined, undefined, "force", "y", undefined],
    ["ground_force1_vy", undefined, undefined, "force", "y", undefined],
    ["ground_torque1_y", undefined, undefined, "moment", "y", undefined],
    ["ground_force_1_py", undefined, undefined, "position", "y", undefined],
    ["R_ground_force_vy", undefined, undefined, "force", "y", "right"],
    ["f2_3", undefined, undefined, "force", "z", undefined],
    ["m2_3", undefined, undefined, "moment", "z", undefined],
    ["p2_3", undefined, undefined, "position", "z", undefined],
    ["FzL", undefined, undefined, "force", "z", "left"],
    ["leftForce", undefined, undefined, "force", undefined, "left"],
    ["GRFv", undefined, undefined, "force", "vertical", undefined],
    ["Mx", "N.mm", "Plate 1 - Moment", "moment", "x", undefined],
    ["Cx", "mm", "Plate 1 - CoP", "position", "x", undefined],
    ["F_box", "N", undefined, "force", undefined, "box"],
    ["Total", undefined, undefined, "unknown", undefined, "total"],
    ["Velocity", "m/s", undefined, "other", undefined, undefined],
    ["column 3", undefined, undefined, "unknown", undefined, undefined],
  ])("reads %s [%s] of %s as %s", (name, unit, group, kind, axis, side) => {
    const read = columnName(name, unit, group);
    expect([read.kind, read.axis, read.side]).toEqual([kind, axis, side]);
  });

  test("gives the three forces of one plate one stem, and two plates two", () => {
    const stems = ["Fx1", "Fy1", "Fz1", "Fz2"].map((name) => columnName(name, undefined, undefined).stem);
    expect(new Set(stems.slice(0, 3)).size).toBe(1);
    expect(stems[3]).not.toBe(stems[0]);
  });
});

test.each([
  ["GRF[N]", "GRF", "N"],
  ["Time (s)", "Time", "s"],
  ["Fz, N", "Fz", "N"],
  ["F_left_N", "F_left", "N"],
  ["time_s", "time", "s"],
  ["Force kN", "Force", "kN"],
  ["Position_m", "Position_m", undefined],
  ["Phase (early)", "Phase (early)", undefined],
])("splitUnit takes the unit off %s", (text, name, unit) => {
  expect(splitUnit(text)).toEqual(unit === undefined ? { name } : { name, unit });
});
