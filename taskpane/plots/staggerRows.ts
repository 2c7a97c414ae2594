const ROWS = 3;

/**
 * Rows for the numbers of events so that close neighbours do not cover each other.
 *
 * @param places Places along the axis, rising.
 * @param gap Least distance between two numbers of one row.
 * @returns For each place a row from zero; the last row takes what has no room.
 */
export function staggerRows(places: readonly number[], gap: number): readonly number[] {
  const lastInRow: number[] = [];
  return places.map((place) => {
    let row = 0;
    while (row < lastInRow.length && place - lastInRow[row] < gap) row++;
    row = Math.min(row, ROWS - 1);
    lastInRow[row] = place;
    return row;
  });
}
