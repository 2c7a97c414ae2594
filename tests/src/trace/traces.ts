import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

/** A jump-like force on two plates: quiet standing, a dip and a push, a flight, a landing. Half of it on each plate. */
export function jumpLike(seconds: number, noise: number, seed = 1, rate = 1000): Trace {
  const normal = normalFrom(seededRandom(seed));
  const samples = Math.round(seconds * rate);
  const sides = [new Float64Array(samples), new Float64Array(samples)];
  for (let i = 0; i < samples; i++) {
    const t = i / rate - seconds / 2;
    let force = 350 + 0.4 * Math.sin(i / 170);
    if (t > 0 && t < 0.5) force -= 220 * Math.sin((Math.PI * t) / 0.5);
    else if (t >= 0.5 && t < 0.9) force += 480 * Math.sin((Math.PI * (t - 0.5)) / 0.4);
    else if (t >= 0.9 && t < 1.4) force = 0;
    else if (t >= 1.4) force += 900 * Math.exp(-(t - 1.4) / 0.08);
    for (const side of sides) side[i] = force + noise * normal();
  }
  return {
    rate,
    plates: [
      { role: "left", force: sides[0] },
      { role: "right", force: sides[1] },
    ],
    start: 0,
    step: 0,
    rounding: 0,
  };
}
