/** A name without case, spaces, underscores, hyphens and brackets, for comparing what people type. */
export function plainName(text: string): string {
  return text.toLowerCase().replace(/[\s_\-–().,]/g, "");
}

/** Up to `count` of the known names, nearest first by edit distance. */
export function nearestNames(text: string, known: readonly string[], count: number = 3): string[] {
  const plain = plainName(text);
  return [...known]
    .map((name) => ({ name, distance: editDistance(plain, plainName(name)) }))
    .sort((a, b) => a.distance - b.distance)
    .slice(0, count)
    .map((entry) => entry.name);
}

/** Least number of letters to insert, delete or replace (Levenshtein 1966). */
function editDistance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const current = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = previous[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      current.push(Math.min(replaced, previous[j] + 1, current[j - 1] + 1));
    }
    previous = current;
  }
  return previous[b.length];
}
