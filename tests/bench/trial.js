import { loadSource } from "../../scripts/loadSource.js";

const { syntheticTrial } = await loadSource("src/synthetic/syntheticTrial.ts");

/** Length of the trial that the table speaks of, samples of each plate at 1000 Hz. */
export const SAMPLES = 5654;

/**
 * A countermovement jump on two plates as a recording would have it: noise of 1 N, sway, plates that do not read zero.
 *
 * @param {number} seed Whole number: equal seeds give equal trials.
 * @param {object} [options] Options of the synthetic trial, over these.
 */
export function jump(seed, options = {}) {
  const { faults, ...rest } = options;
  const { trace } = syntheticTrial({
    test: "CMJ", seed, mass: 60 + (seed % 37), height: 0.24 + 0.004 * (seed % 41), quietBefore: 1.9, quietAfter: 2.2, leftShare: 0.47 + 0.002 * (seed % 31),
    faults: { noise: 1, sway: 0.8, offset: [4, -3], ...faults },
    ...rest,
  });
  return trace;
}

/** The first `SAMPLES` samples of such a jump. */
export function trial(seed, options) {
  const trace = jump(seed, options);
  const plates = trace.plates.map(({ role, force }) => {
    if (force.length < SAMPLES) throw new Error(`the trial of seed ${seed} has ${force.length} samples only`);
    return { role, force: force.slice(0, SAMPLES) };
  });
  return { ...trace, plates };
}

/** The trial as a delimited recording: time, left, right, about 180 kB. */
export function delimited(trace) {
  const [left, right] = trace.plates.map(({ force }) => force);
  const lines = ["time,left,right"];
  for (let i = 0; i < left.length; i++) lines.push(`${(i / trace.rate).toFixed(5)},${left[i].toFixed(6)},${right[i].toFixed(6)}`);
  return `${lines.join("\n")}\n`;
}
