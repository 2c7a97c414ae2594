import { accelerationAt, type Extreme, extreme, type Segment, velocityAt } from "./segments.ts";

/** Greatest or least power per kilogram, (g + a) v, over a chain of segments, W/kg, exactly: the derivative is a quartic. */
export function extremePower(segments: readonly Segment[], sign: 1 | -1, gravity: number): Extreme {
  const power = (segment: Segment, s: number): number => (gravity + accelerationAt(segment, s)) * velocityAt(segment, s);
  return extreme(segments, sign, power, (segment) => {
    const slope = (s: number): number => {
      const acceleration = accelerationAt(segment, s);
      return (segment.A + 2 * segment.B * s) * velocityAt(segment, s) + segment.duration * (gravity + acceleration) * acceleration;
    };
    return [0, ...rootsOf(slope), 1];
  });
}

/** Roots in (0, 1) of a smooth function with few of them: sign changes over 64 pieces, then bisection to the last bit. */
function rootsOf(slope: (s: number) => number): number[] {
  const roots: number[] = [];
  const pieces = 64;
  let before = slope(0);
  for (let i = 1; i <= pieces; i++) {
    const after = slope(i / pieces);
    if (before * after < 0) {
      let low = (i - 1) / pieces;
      let high = i / pieces;
      for (let step = 0; step < 60; step++) {
        const middle = (low + high) / 2;
        if (slope(middle) * before > 0) low = middle;
        else high = middle;
      }
      roots.push((low + high) / 2);
    }
    before = after;
  }
  return roots;
}
