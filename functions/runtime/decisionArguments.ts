import { InputError } from "../../src/errors.ts";
import type { Component } from "../../src/sessions/combineTests.ts";
import type { Combination } from "../../src/sessions/pairingReason.ts";
import { mean, standardDeviation } from "../../src/statistics/moments.ts";
import { quoted, rowsFrom, textFrom } from "./cells.ts";

/** Combinations by the names of their own cell functions, and the words of the literature. */
const NAMES: Readonly<Record<string, Combination>> = {
  eur: "eccentricUtilisation",
  eccentricutilisation: "eccentricUtilisation",
  prestretchaugmentation: "prestretchAugmentation",
  dsi: "dynamicStrength",
  dynamicstrength: "dynamicStrength",
  armswing: "armSwing",
  bilateralindex: "bilateral",
  bilateral: "bilateral",
};

/** Combination by its name, in any case, with spaces or underscores. */
export function combinationFrom(value: unknown): Combination {
  const plain = (textFrom(value, "kind") ?? "").toLowerCase().replace(/[\s_-]/g, "");
  const kind = Object.hasOwn(NAMES, plain) ? NAMES[plain] : undefined;
  if (kind === undefined) throw new InputError("unknown-name", `combination of tests requires EUR, PRESTRETCH_AUGMENTATION, DSI, ARM_SWING or BILATERAL_INDEX, not ${quoted(value)}`);
  return kind;
}

/**
 * Mean of a range of trials with its uncertainty: the stated one, else what their scatter gives. A stated one of a single
 * value counts as known, since the number of trials behind it was not said.
 */
export function componentFrom(values: readonly number[], stated?: number): Component {
  if (values.length === 0) throw new InputError("not-available", "combination of tests requires at least one trial of each part");
  if (stated !== undefined && values.length === 1) return { value: values[0], u: stated };
  const scatter = values.length > 1 ? standardDeviation(values) / Math.sqrt(values.length) : undefined;
  const u = stated ?? scatter;
  return { value: mean(values), count: values.length, ...(u === undefined ? {} : { u }) };
}

/** The cells of a range one after the other, blank ones kept in their places. */
export function columnFrom(value: unknown): readonly unknown[] {
  return rowsFrom(value).flat();
}
