/**
 * The words most like a mistyped one, nearest first: least Levenshtein distance, without regard to case.
 *
 * @param text What was typed.
 * @param words What is allowed.
 * @param count How many to give at most, no unit.
 * @returns Words within half of the typed length; may be empty.
 * @see Levenshtein (1966), distance of insertions, deletions and substitutions.
 */
export function nearestWords(text: string, words: Iterable<string>, count = 3): string[] {
  const typed = text.toLowerCase();
  const limit = Math.max(2, Math.floor(typed.length / 2));
  const found: { word: string; distance: number }[] = [];
  for (const word of words) {
    const distance = distanceBetween(typed, word.toLowerCase());
    if (distance <= limit) found.push({ word, distance });
  }
  return found.sort((a, b) => a.distance - b.distance).slice(0, count).map((entry) => entry.word);
}

function distanceBetween(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length];
}
