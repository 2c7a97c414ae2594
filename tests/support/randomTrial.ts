import { InputError } from "../../src/errors.ts";
import { seededRandom } from "../../src/synthetic/seededRandom.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { type SyntheticTrial, syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";

/**
 * A random countermovement jump for a seed: body, height, times, depth, sides, sampling grid. Draws again where the targets do not go
 * together. Faults come on top of it.
 */
export function randomJump(seed: number, more: Partial<SyntheticOptions> = {}): SyntheticTrial & { readonly options: SyntheticOptions } {
  const random = seededRandom(seed);
  for (;;) {
    const options: SyntheticOptions = {
      test: "CMJ",
      seed,
      mass: random.between(45, 110),
      height: random.between(0.18, 0.5),
      timeToTakeoff: random.between(0.65, 0.95),
      depth: random.between(0.24, 0.38),
      landingLower: random.between(0, 0.03),
      leftShare: { quiet: random.between(0.46, 0.54), unweighting: random.between(0.45, 0.55), braking: random.between(0.45, 0.55), propulsion: random.between(0.45, 0.55), landing: random.between(0.4, 0.6) },
      quietBefore: random.between(1.5, 2.5),
      ...more,
    };
    try {
      return { ...syntheticTrial(options), options };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
}

/** Seeds from one on. */
export function seeds(count: number): number[] {
  return Array.from({ length: count }, (_, i) => i + 1);
}
