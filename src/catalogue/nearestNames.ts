/**
 * The known names most like a misspelt one: fewest edits first (insert, delete, replace, swap of neighbours), a name that
 * holds the whole text, or starts like it, counted as nearer.
 *
 * @param text What was written, no unit.
 * @param names Known names, no unit.
 * @param count How many to give at most, no unit.
 * @returns Up to `count` names, nearest first, no unit; empty where nothing is near.
 */
export function nearestNames(text: string, names: readonly string[], count = 3): readonly string[] {
  const sought = text.toLowerCase();
  if (!sought) return [];
  return names
    .map((name) => ({ name, distance: distanceTo(sought, name.toLowerCase()) }))
    .filter(({ distance }) => distance <= Math.max(2, sought.length * 0.5))
    .sort((a, b) => a.distance - b.distance || a.name.length - b.name.length || (a.name < b.name ? -1 : 1))
    .slice(0, count)
    .map(({ name }) => name);
}

function distanceTo(sought: string, name: string): number {
  const edits = editDistance(sought.slice(0, 64), name);
  if (sought.length < 3) return edits;
  if (name.startsWith(sought)) return Math.min(edits, 1);
  return name.includes(sought) ? Math.min(edits, 1.5) : edits;
}

/** Optimal string alignment distance, two rows and one more for swaps. */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      row[j] = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + cost);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j]!, beforeLast[j - 2]! + 1);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
