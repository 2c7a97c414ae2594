/**
 * The outline of a trace as the path of a small picture: minimum and maximum of each column of pixels, so that no peak is lost.
 *
 * @param force Samples, N; one or more.
 * @param width Columns of the picture, px.
 * @param height Rows of the picture, px.
 * @returns The `d` of an SVG path in a box of `width` × `height`, zero force at the foot.
 */
export function tracePicture(force: Float64Array, width: number, height: number): string {
  const count = force.length;
  if (count === 0) return "";
  let highest = 1;
  for (let i = 0; i < count; i++) if (force[i] > highest) highest = force[i];
  const columns = Math.min(width, count);
  const y = (value: number): string => (height - (Math.max(value, 0) / highest) * height).toFixed(1);
  let path = "";
  for (let column = 0; column < columns; column++) {
    const start = Math.floor((column * count) / columns);
    const end = Math.max(Math.floor(((column + 1) * count) / columns), start + 1);
    let low = Infinity;
    let high = -Infinity;
    let lowAt = start;
    let highAt = start;
    for (let i = start; i < end; i++) {
      if (force[i] < low) [low, lowAt] = [force[i], i];
      if (force[i] > high) [high, highAt] = [force[i], i];
    }
    const x = ((column + 0.5) * width) / columns;
    const [one, two] = lowAt <= highAt ? [low, high] : [high, low];
    path += `${column === 0 ? "M" : "L"}${x.toFixed(1)} ${y(one)}`;
    if (y(one) !== y(two)) path += `L${x.toFixed(1)} ${y(two)}`;
  }
  return path;
}
