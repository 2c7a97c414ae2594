import type { SeededRandom } from "./seededRandom.ts";
import type { SyntheticFaults } from "./SyntheticOptions.ts";
import type { Plate } from "../trace/Trace.ts";

/**
 * What the plates read: gain, white noise, ringing, offset, drift, range, step and upstream zeroing, in this order, in place.
 *
 * @param plates True force of each plate, N.
 * @param rate Hz.
 * @param faults What measuring adds.
 * @param takeoff When the plates are left and begin to ring, s; absent where they never are.
 * @param random Source of the noise and of the phase of ringing.
 */
export function measured(plates: readonly Plate[], rate: number, faults: SyntheticFaults, takeoff: number | undefined, random: SeededRandom): void {
  const { noise = 0, ringing, clip, quantum, zeroedBelow } = faults;
  const phase = 2 * Math.PI * random.uniform();
  for (const [index, { force }] of plates.entries()) {
    const side = Math.min(index, 1);
    const offset = faults.offset?.[side] ?? 0;
    const drift = faults.drift?.[side] ?? 0;
    const gain = faults.gain?.[side] ?? 1;
    if (gain !== 1) for (let i = 0; i < force.length; i++) force[i] *= gain;
    if (noise > 0) for (let i = 0; i < force.length; i++) force[i] += noise * random.normal();
    if (ringing !== undefined && takeoff !== undefined) {
      const { amplitude, frequency, decay = Infinity } = ringing;
      for (let i = Math.ceil(takeoff * rate); i < force.length; i++) {
        const since = i / rate - takeoff;
        force[i] += (amplitude / plates.length) * Math.exp(-since / decay) * Math.sin(2 * Math.PI * frequency * since + phase);
      }
    }
    if (offset !== 0 || drift !== 0) for (let i = 0; i < force.length; i++) force[i] += offset + (drift * i) / rate;
    if (clip !== undefined) for (let i = 0; i < force.length; i++) if (force[i] > clip) force[i] = clip;
    if (quantum !== undefined && quantum > 0) for (let i = 0; i < force.length; i++) force[i] = Math.round(force[i] / quantum) * quantum;
    if (zeroedBelow !== undefined) for (let i = 0; i < force.length; i++) if (force[i] < zeroedBelow) force[i] = 0;
  }
}
