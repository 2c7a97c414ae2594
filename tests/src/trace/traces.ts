import type { Trace } from "../../../src/trace/Trace.ts";

/** Mulberry32 (public domain, Ettinger 2017): a small seeded generator, uniform in [0, 1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Normal noise of standard deviation one by the Box–Muller transform. */
export function gaussian(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** A jump-like force on two plates: quiet standing, a dip and a push, a flight, a landing. Half of it on each plate. */
export function jumpLike(seconds: number, noise: number, seed = 1, rate = 1000): Trace {
  const random = seeded(seed);
  const samples = Math.round(seconds * rate);
  const sides = [new Float64Array(samples), new Float64Array(samples)];
  for (let i = 0; i < samples; i++) {
    const t = i / rate - seconds / 2;
    let force = 350 + 0.4 * Math.sin(i / 170);
    if (t > 0 && t < 0.5) force -= 220 * Math.sin((Math.PI * t) / 0.5);
    else if (t >= 0.5 && t < 0.9) force += 480 * Math.sin((Math.PI * (t - 0.5)) / 0.4);
    else if (t >= 0.9 && t < 1.4) force = 0;
    else if (t >= 1.4) force += 900 * Math.exp(-(t - 1.4) / 0.08);
    for (const side of sides) side[i] = force + noise * gaussian(random);
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
