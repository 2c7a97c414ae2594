import { describe, expect, test } from "vitest";
import { Kinematics, restAt } from "../../../src/protocols/Kinematics.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { INTEGRAL, LANDING_GROUP, SIDES, TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { BODY_WEIGHT, GAIN, GRAVITY, LANDING, NOISE, ROUNDING, SOURCE_COUNT, START_VELOCITY, ZERO } from "../../../src/uncertainty/sources.ts";
import { traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

// Constant acceleration, so that everything is known in closed form: v = v0 + a t, z = z0 + v0 t + a t^2 / 2.

const RATE = 100;
const W = 800;
const G = 9.8;
const A = 5;
/** The motion begins at this sample, and the velocity was known there. */
const FIRST = 20;
const NEEDS = TIMES | WEIGHT | INTEGRAL;

interface Made {
  readonly trial: Trial;
  readonly kinematics: Kinematics;
}

function made(v0 = 0, anchorU = 0.003): Made {
  const force = Array.from({ length: 101 }, () => W * (1 + A / G));
  const trial = trialOf(traceOf({ total: force }, RATE, { step: Math.sqrt(12) * 0.4 }), { protocol: "CMJ", choices: [["gravity", G], ["gravity-u", 0.2], ["plate-gain-u", 0.5]] });
  trial.weight = trial.work.quantity(W, WEIGHT, BODY_WEIGHT, 2);
  Object.assign(trial, { uWeight: 2, uZero: 0.3, noise: 1.5, uStart: 0.01 });
  const count = 81;
  const t = (k: number): number => k / RATE;
  const motion = {
    start: FIRST,
    rate: RATE,
    velocity: Float64Array.from({ length: count }, (_, k) => v0 + A * t(k)),
    displacement: Float64Array.from({ length: count }, (_, k) => 0.25 + v0 * t(k) + (A * t(k) ** 2) / 2),
  };
  return { trial, kinematics: new Kinematics(trial, motion, FIRST / RATE, trial.work.quantity(v0, NEEDS, START_VELOCITY, anchorU)) };
}

const parts = ({ trial }: Made, quantity: { readonly row: number; readonly value: number; readonly needs: number }): number[] => Array.from({ length: SOURCE_COUNT }, (_, source) => trial.work.part(quantity, source));

function only(entries: readonly (readonly [number, number])[]): unknown[] {
  const row: unknown[] = Array(SOURCE_COUNT).fill(0);
  for (const [source, u] of entries) row[source] = expect.closeTo(u, 10);
  return row.map((one) => (one === 0 ? expect.closeTo(0, 15) : one));
}

test("speed and position are those of the motion, from its first sample on", () => {
  const { kinematics } = made(-1);
  expect(kinematics.speed(0.5)).toBeCloseTo(-1 + A * 0.3, 12);
  expect(kinematics.speed(0.505)).toBeCloseTo(-1 + A * 0.305, 12);
  expect(kinematics.position(0.5)).toBeCloseTo(0.25 - 0.3 + (A * 0.09) / 2, 12);
  // The ends outside.
  expect([kinematics.speed(0.1), kinematics.position(0.1)]).toEqual([-1, 0.25]);
});

describe("the uncertainty of a velocity", () => {
  // v = v1 + g (J / W - t) with the impulse J: dv/dW = -g J / W^2 = -(change + g t) / W; the zero is in J and in W, -t + J / W of it; each sample's noise is
  // in J once, 1 / rate: sqrt(t / rate) of it; gravity is a factor of the change; a later or earlier start is not here.
  test.each([0, -2])("with %s m/s at its start", (v0) => {
    const one = made(v0);
    const t = 0.4;
    const change = A * t;
    const quantity = one.kinematics.velocity(FIRST / RATE + t);
    expect(quantity.value).toBeCloseTo(v0 + change, 12);
    expect(quantity.needs).toBe(NEEDS);
    expect(parts(one, quantity)).toEqual(only([
      [BODY_WEIGHT, (-(change + G * t) / W) * 2],
      [ZERO, (change / W) * 0.3],
      [NOISE, (G / W) * 1.5 * Math.sqrt(t / RATE)],
      [START_VELOCITY, 0.003],
      [GRAVITY, change * 0.002],
      [ROUNDING, (-(change + G * t) / W) * 0.4],
    ]));
  });

  test("before the instant at which it was known grows as well", () => {
    const one = made();
    const t = -0.1;
    const quantity = one.kinematics.velocityOf(A * t, FIRST / RATE + t, SIDES);
    expect(quantity.needs).toBe(NEEDS | SIDES);
    expect(one.trial.work.part(quantity, NOISE)).toBeCloseTo((G / W) * 1.5 * Math.sqrt(0.1 / RATE), 12);
    expect(one.trial.work.part(quantity, BODY_WEIGHT)).toBeCloseTo(((0.5 + G * 0.1) / W) * 2, 12);
    expect(one.kinematics.velocity(0.6, LANDING_GROUP).needs).toBe(NEEDS | LANDING_GROUP);
  });
});

describe("the uncertainty of a displacement", () => {
  // z = z1 + v1 t + g (K / W - t^2 / 2) with the impulse's integral K: the same by t; noise: sqrt(t^3 / 3 / rate).
  test.each([0, -2])("with %s m/s at its start", (v0) => {
    const one = made(v0);
    const t = 0.4;
    const change = (A * t * t) / 2;
    const quantity = one.kinematics.displacement(FIRST / RATE + t, LANDING_GROUP);
    expect(quantity.value).toBeCloseTo(0.25 + v0 * t + change, 12);
    expect(quantity.needs).toBe(NEEDS | LANDING_GROUP);
    expect(parts(one, quantity)).toEqual(only([
      [BODY_WEIGHT, (-(change + (G * t * t) / 2) / W) * 2],
      [ZERO, (change / W) * 0.3],
      [NOISE, (G / W) * 1.5 * Math.sqrt(t ** 3 / 3 / RATE)],
      [START_VELOCITY, 0.003 * t],
      [GRAVITY, change * 0.002],
      [ROUNDING, (-(change + (G * t * t) / 2) / W) * 0.4],
    ]));
    expect(one.kinematics.displacement(0.6).needs).toBe(NEEDS);
  });

  test("at an instant that is itself in doubt has the speed there", () => {
    const one = made();
    const instant = one.trial.work.quantity(0.6, SIDES, LANDING, 0.002);
    const quantity = one.kinematics.displacementAt(instant, LANDING_GROUP);
    expect(quantity.value).toBeCloseTo(0.25 + (A * 0.16) / 2, 12);
    expect(one.trial.work.part(quantity, LANDING)).toBeCloseTo(0.002 * A * 0.4, 12);
    expect(one.trial.work.part(quantity, START_VELOCITY)).toBeCloseTo(0.003 * 0.4, 12);
    expect(quantity.needs).toBe(NEEDS | SIDES | LANDING_GROUP);
    expect(one.kinematics.displacementAt(instant).needs).toBe(NEEDS | SIDES);
  });
});

test("power is force times velocity, and so are its contributions: F u(v) + v u(F)", () => {
  const one = made();
  const { trial, kinematics } = one;
  const [f, v] = [W * (1 + A / G), A * 0.4];
  const velocity = kinematics.velocity(0.6);
  const power = kinematics.power(60, 2.5);
  expect(power.value).toBeCloseTo(f * v, 9);
  expect(power.needs).toBe(NEEDS);
  const noise = v * 2.5 * 1.5 + f * trial.work.part(velocity, NOISE);
  expect(trial.work.part(power, NOISE)).toBeCloseTo(noise, 9);
  expect(trial.work.part(power, ZERO)).toBeCloseTo(-v * 0.3 + f * trial.work.part(velocity, ZERO), 9);
  expect(trial.work.part(power, GAIN)).toBeCloseTo(v * f * 0.005, 9);
  expect(trial.work.part(power, BODY_WEIGHT)).toBeCloseTo(f * trial.work.part(velocity, BODY_WEIGHT), 9);
  expect(trial.work.part(kinematics.power(60), NOISE)).toBeCloseTo(v * 1.5 + f * trial.work.part(velocity, NOISE), 9);
});

describe("an instant at which the velocity has a value", () => {
  test.each([
    ["as sharp as the acceleration is large", 4, -1 / 4],
    ["on the way down too", -4, 1 / 4],
    ["as sharp as the least acceleration", 0.5, -2],
    ["no blunter than half a metre per second squared allows", 0.1, -2],
    ["nor on the way down", -0.1, 2],
    ["nor where there is none", 0, -2],
  ])("is %s", (_, acceleration, slope) => {
    const { trial, kinematics } = made();
    const instant = kinematics.instant(0.7, trial.work.quantity(0, WEIGHT, ZERO, 0.03), acceleration);
    expect([instant.value, instant.needs]).toEqual([0.7, WEIGHT]);
    expect(trial.work.part(instant, ZERO)).toBeCloseTo(0.03 * slope, 12);
  });
});

test("rest is a velocity of zero, but for sway", () => {
  const { trial } = made();
  const rest = restAt(trial);
  expect([rest.value, rest.needs, trial.work.part(rest, START_VELOCITY)]).toEqual([0, NEEDS, 0.01]);
});
