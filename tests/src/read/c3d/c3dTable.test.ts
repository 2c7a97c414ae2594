import { describe, expect, test } from "vitest";
import { c3dAnalog } from "../../../../src/read/c3d/c3dAnalog.ts";
import { c3dParameters } from "../../../../src/read/c3d/c3dParameters.ts";
import { readRecording } from "../../../../src/read/readRecording.ts";
import { dataBytes, describeWithData } from "../../../support/data.ts";
import { seededRandom } from "../../../support/seededRandom.ts";
import { writeC3d, type C3dOptions } from "./writeC3d.ts";

/** Upward force on a person in the air and on the plate, in steps of 0.5 N. */
const UP = Float64Array.from({ length: 400 }, (_, i) => (i > 150 && i < 250 ? 0 : 700 + Math.round(100 * Math.sin(i / 9)) / 2));
const DOWN = UP.map((force) => -force);
const ZERO = new Float64Array(400);
/** Corners of a plate in the floor, z of the laboratory upward: x × y of the plate then points down, as in most laboratories. */
const FLOOR = [0, 500, 0, 0, 0, 0, 400, 0, 0, 400, 500, 0].map((v, i) => (i % 3 === 0 ? 400 - v : v));
const FLOOR_Z_UP = [400, 500, 0, 0, 500, 0, 0, 0, 0, 400, 0, 0];

function plateFile(changes: Partial<C3dOptions> = {}): Uint8Array {
  return writeC3d({
    processor: "intel",
    real: false,
    channels: [ZERO, ZERO, DOWN, ZERO, ZERO, ZERO],
    labels: ["Fx", "Fy", "Fz", "Mx", "My", "Mz"],
    perFrame: 4,
    pointRate: 250,
    scale: 0.5,
    offset: 0,
    plates: [{ type: 2, corners: FLOOR, channels: [1, 2, 3, 4, 5, 6] }],
    ...changes,
  });
}

function trace(bytes: Uint8Array) {
  return readRecording(bytes, "test.c3d").trace();
}

describe("c3dTable", () => {
  for (const processor of ["intel", "dec", "sgi"] as const) {
    for (const real of [false, true]) {
      test(`reads ${real ? "reals" : "whole numbers"} as a ${processor} machine writes them`, () => {
        const read = trace(plateFile({ processor, real, points: 3 }));
        expect(read.rate).toBe(1000);
        expect(read.plates).toEqual([{ role: "total", force: UP }]);
      });
    }
  }

  test("reads whole numbers without sign, with an offset", () => {
    expect(trace(plateFile({ unsigned: true, offset: 40_000, scale: 0.5 })).plates[0].force).toEqual(UP);
  });

  test("turns the force by the corners: a plate whose z points up gives the same", () => {
    const up = plateFile({ channels: [ZERO, ZERO, UP, ZERO, ZERO, ZERO], plates: [{ type: 2, corners: FLOOR_Z_UP, channels: [1, 2, 3, 4, 5, 6] }] });
    expect(trace(up).plates[0].force).toEqual(UP);
  });

  test("finds the vertical of a laboratory whose y points up", () => {
    // The floor turned by a quarter about x: (x, y, z) becomes (x, z, -y), so that up is y.
    const corners = FLOOR.flatMap((_, i) => (i % 3 === 0 ? [FLOOR[i], FLOOR[i + 2], -FLOOR[i + 1]] : []));
    const recording = readRecording(plateFile({ plates: [{ type: 2, corners, channels: [1, 2, 3, 4, 5, 6] }] }), "y-up.c3d");
    expect(recording.guesses.invert.value).toBe(false);
    expect(recording.trace().plates[0].force).toEqual(UP);
  });

  test("adds the four vertical sensors of a TYPE-3 plate", () => {
    const quarters = [0.1, 0.2, 0.3, 0.4].map((share) => DOWN.map((force) => share * force));
    const bytes = plateFile({
      real: true,
      channels: [ZERO, ZERO, ZERO, ZERO, ...quarters],
      labels: ["x12", "x34", "y14", "y23", "z1", "z2", "z3", "z4"],
      plates: [{ type: 3, corners: FLOOR, channels: [1, 2, 3, 4, 5, 6, 7, 8] }],
    });
    const force = trace(bytes).plates[0].force;
    force.forEach((value, i) => expect(value).toBeCloseTo(UP[i], 3));
  });

  test("multiplies the channels of a TYPE-4 plate by its matrix, stored column by column", () => {
    // By hand: with Fz = 10 v3 + 2 v1 and v1 = v3 = -F / 12, the force upward is F.
    const matrix = Array<number>(36).fill(0);
    matrix[2 + 6 * 2] = 10;
    matrix[2 + 6 * 0] = 2;
    const signal = DOWN.map((force) => force / 12);
    const bytes = plateFile({ real: true, scale: 1, channels: [signal, ZERO, signal, ZERO, ZERO, ZERO], plates: [{ type: 4, corners: FLOOR, channels: [1, 2, 3, 4, 5, 6], matrix }] });
    trace(bytes).plates[0].force.forEach((value, i) => expect(value).toBeCloseTo(UP[i], 3));
  });

  test("lowers channels by their mean over the frames of ZERO", () => {
    const raised = DOWN.map((force, i) => (i < 40 ? 0 : force) - 12);
    const force = trace(plateFile({ channels: [ZERO, ZERO, raised, ZERO, ZERO, ZERO], zero: [1, 10] })).plates[0].force;
    expect(force[0]).toBe(0);
    expect(force[100]).toBe(UP[100]);
  });

  test("reads two plates and asks which is left", () => {
    const half = DOWN.map((force) => force / 2);
    const recording = readRecording(
      plateFile({
        real: true,
        channels: [ZERO, ZERO, half, ZERO, ZERO, ZERO, ZERO, ZERO, DOWN, ZERO, ZERO, ZERO],
        labels: Array.from({ length: 12 }, (_, i) => `c${i}`),
        plates: [1, 7].map((first) => ({ type: 2, corners: FLOOR, channels: [0, 1, 2, 3, 4, 5].map((i) => first + i) })),
      }),
      "two.c3d",
    );
    expect(recording.trace().plates.map((plate) => [plate.role, plate.force[0]])).toEqual([
      ["left", UP[0] / 2],
      ["right", UP[0]],
    ]);
    expect(recording.guesses.forces.sure).toBe(false);
    expect(recording.format).toBe("c3d");
  });

  test("reads parameters that fill more than one block, and more frames than the header can count", () => {
    const long = Float64Array.from({ length: 70_000 }, (_, i) => -UP[i % 400]);
    const zero = new Float64Array(70_000);
    const bytes = plateFile({ channels: [zero, zero, long, zero, zero, zero], perFrame: 1, pointRate: 1000, longFrames: true, filler: 20 });
    const { force } = trace(bytes).plates[0];
    expect(force).toHaveLength(70_000);
    expect(force[69_999]).toBe(UP[69_999 % 400]);
  });

  test("without plates the analog channels are guessed like the columns of a text", () => {
    const read = readRecording(plateFile({ plates: undefined }), "analog.c3d");
    expect(read.trace().plates).toEqual([{ role: "total", force: UP }]);
    expect(read.guesses.invert.value).toBe(true);
  });

  test("says that a plate of an unknown type was not read", () => {
    const bytes = plateFile({ plates: [{ type: 11, corners: FLOOR, channels: [1, 2, 3, 4, 5, 6] }] });
    expect(readRecording(bytes, "x.c3d").warnings.join()).toContain("TYPE-11");
  });

  const faults: [string, (b: Uint8Array) => void, RegExp][] = [
    ["an unknown processor", (b) => void (b[512 + 3] = 99), /processor 99/],
    ["parameters beyond the file", (b) => void (b[0] = 120), /parameters are not in the file/],
    ["no frames", (b) => void (b[8] = b[9] = 0), /frames/],
    ["more frames than there are", (b: Uint8Array) => ((b[8] = 255), (b[9] = 127)), /frames are said to follow and \d+ are there/],
    ["data beyond the file", (b) => void (b[17] = 200), /data are not in the file/],
    ["counts that do not fit", (b) => void (b[4] = 23), /do not make the 23 values/],
    ["no analog values", (b) => void (b[4] = b[5] = 0), /no analog channels/],
  ];
  test.each(faults)("refuses a file with %s", (_what, spoil, message) => {
    const bytes = plateFile();
    spoil(bytes);
    expect(() => trace(bytes)).toThrow(expect.objectContaining({ name: "InputError", code: "damaged", message: expect.stringMatching(message) }));
  });

  test("refuses a file cut at any length, and never crashes", () => {
    const bytes = plateFile({ filler: 3 });
    for (let length = 600; length < bytes.length - 512; length += 97) {
      expect(() => trace(bytes.slice(0, length))).toThrow(expect.objectContaining({ name: "InputError" }));
    }
  });

  test("gives a trace or a sentence for files with random bytes changed in their head", () => {
    const random = seededRandom(3);
    const original = plateFile({ filler: 2 });
    for (let n = 0; n < 2000; n++) {
      const bytes = original.slice();
      for (let k = 0; k < 4; k++) bytes[Math.floor(random() * 2000)] = Math.floor(random() * 256);
      try {
        trace(bytes);
      } catch (error) {
        expect(error).toMatchObject({ name: "InputError" });
      }
    }
  });
});

describeWithData("C3D samples of the format's own set", () => {
  const encodings = ["pi", "pr", "vi", "vr", "si", "sr"].map((end) => `real/c3d/sample01_Eb015${end}.c3d`);

  test("the six encodings give identical values, and the least Fz1 is -838.488 N", () => {
    const read = encodings.map((path) => {
      const { parameters, numbers } = c3dParameters(dataBytes(path));
      const analog = c3dAnalog(numbers, parameters);
      return analog.channels.map((_, i) => analog.values(i));
    });
    for (const other of read) expect(other).toEqual(read[0]);
    // The value that the format's own documentation of the sample set states.
    expect(Math.min(...read[0][2])).toBeCloseTo(-838.488, 3);
    const traces = encodings.map((path) => trace(dataBytes(path)));
    for (const other of traces) expect(other).toEqual(traces[0]);
  });

  test("plates of TYPE-1, TYPE-2 and TYPE-4 give a force that is upward under load", () => {
    for (const name of ["sample28_type1", "sample10_TYPE-2", "sample10_TYPE-4"]) {
      const { plates } = trace(dataBytes(`real/c3d/${name}.c3d`));
      expect(Math.max(...plates[0].force)).toBeGreaterThan(300);
      expect(Math.min(...plates[0].force)).toBeGreaterThan(-10);
    }
  });

  test("the matrix of TYPE-4 gives the force that was scaled without cross-talk in TYPE-2, within 3 %", () => {
    const two = trace(dataBytes("real/c3d/sample10_TYPE-2.c3d")).plates[0].force;
    const four = trace(dataBytes("real/c3d/sample10_TYPE-4.c3d")).plates[0].force;
    const peak = Math.max(...two);
    two.forEach((value, i) => expect(Math.abs(value - four[i])).toBeLessThan(0.03 * peak));
  });

  test("the jump on two TYPE-4 plates is read at 600 Hz with its flight", () => {
    const { rate, plates } = trace(dataBytes("real/c3d/jump_type4_two_plates.c3d"));
    expect([rate, plates.length]).toEqual([600, 2]);
    const sum = plates[0].force.map((value, i) => value + plates[1].force[i]);
    // The plates are 5 N and 19 N off their zero, as the data folder says.
    const air = sum.filter((force) => force < 40);
    expect(air.length / rate).toBeGreaterThan(0.25);
    expect(air.length / rate).toBeLessThan(0.7);
  });
});
