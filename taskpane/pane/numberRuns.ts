/** Rising whole numbers as a person lists them, three or more in a row as a run: `3, 5 to 9 and 12`. */
export function numberRuns(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const each of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && each === last[1] + 1) last[1] = each;
    else runs.push([each, each]);
  }
  const parts = runs.flatMap(([first, last]) => (last - first < 2 ? [first, last].filter((each, index) => index === 0 || each !== first).map(String) : [`${first} to ${last}`]));
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}
