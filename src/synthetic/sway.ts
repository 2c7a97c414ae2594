import type { SeededRandom } from "./seededRandom.ts";

/** Quiet standing as a sum of sines: the velocity is bounded, so the mean force over a window tends to body weight as 1 / length. */
export interface Sway {
  /** m/s at t s. */
  velocity(time: number): number;
  /** m/s^2 at t s. */
  acceleration(time: number): number;
}

const COMPONENTS = 6;
/** Band of the sines, Hz: force of standing people is mostly above 1 Hz (heart beat, tremor). Common practice. */
const BAND = [1, 6] as const;

/** Sway whose acceleration has this standard deviation, m/s^2. */
export function swayOf(deviation: number, random: SeededRandom): Sway {
  const parts = Array.from({ length: COMPONENTS }, () => ({
    omega: 2 * Math.PI * random.between(BAND[0], BAND[1]),
    phase: 2 * Math.PI * random.uniform(),
  }));
  const amplitude = deviation * Math.sqrt(2 / COMPONENTS);
  return {
    velocity: (time) => parts.reduce((sum, part) => sum - (amplitude / part.omega) * Math.cos(part.omega * time + part.phase), 0),
    acceleration: (time) => parts.reduce((sum, part) => sum + amplitude * Math.sin(part.omega * time + part.phase), 0),
  };
}
