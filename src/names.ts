/** A name without case, spaces, underscores, hyphens and brackets, for comparing what people type. */
export function plainName(text: string): string {
  return text.toLowerCase().replace(/[\s_\-–().,]/g, "");
}

/**
 * The known names nearest to what was typed, by edit distance; a name that starts with the text, or holds it, counts as near.
 *
 * @param text What was typed, no unit.
 * @param known Names, no unit.
 * @param count How many to give at most, no unit.
 * @returns Names, nearest first, no unit.
 */
export function nearestNames(text: string, known: readonly string[], count: number = 3): string[] {
  const plain = plainName(text).slice(0, 64);
  return known
    .map((name) => ({ name, distance: distanceTo(plain, plainName(name)) }))
    .sort((a, b) => a.distance - b.distance || a.name.length - b.name.length)
    .slice(0, count)
    .map((entry) => entry.name);
}

function distanceTo(typed: string, name: string): number {
  const edits = editDistance(typed, name);
  if (typed.length < 3) return edits;
  if (name.startsWith(typed)) return Math.min(edits, 1.2);
  return name.includes(typed) ? Math.min(edits, 1.5) : edits;
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
