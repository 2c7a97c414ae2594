import { InputError } from "../errors.ts";
import type { RepeatTable } from "./RepeatTable.ts";

/** Residual variance of the additive model of people and trials. */
export interface ResidualMeanSquare {
  readonly meanSquare: number;
  readonly degreesOfFreedom: number;
}

/**
 * Residual mean square of `value = person + trial + error`, by least squares over the numbers that are there.
 *
 * In a full table this is the error mean square of the two-way analysis of variance.
 * With gaps it uses every person with at least two numbers; the degrees of freedom
 * are numbers minus persons minus free trial effects. Assumes that gaps arise by chance.
 *
 * @param table Persons by trials, gaps allowed, in the unit of the quantity.
 * @param columns Number of trials, no unit.
 * @returns Mean square, in the unit squared, and its degrees of freedom, no unit.
 * @throws {InputError} `not-available` if nothing is left to estimate the error from.
 * @see Hopkins (2000); least squares of an unbalanced two-way layout as in Searle (1971), from memory.
 */
export function residualMeanSquare(table: RepeatTable, columns: number): ResidualMeanSquare {
  const normal = Array.from({ length: columns }, () => new Array<number>(columns + 1).fill(0));
  const rows: { columns: number[]; deviations: number[] }[] = [];
  let values = 0;
  for (const row of table) {
    const filled: number[] = [];
    for (let j = 0; j < columns; j++) if (row[j] !== undefined) filled.push(j);
    if (filled.length < 2) continue;
    let centre = 0;
    for (const j of filled) centre += row[j]! / filled.length;
    const deviations = filled.map((j) => row[j]! - centre);
    filled.forEach((j, index) => {
      normal[j][j] += 1;
      for (const other of filled) normal[j][other] -= 1 / filled.length;
      normal[j][columns] += deviations[index];
    });
    rows.push({ columns: filled, deviations });
    values += filled.length;
  }
  const { effects, rank } = solveSingular(normal, columns);
  const degreesOfFreedom = values - rows.length - rank;
  if (degreesOfFreedom < 1) {
    throw new InputError("not-available", "typical error requires at least two people with two or more trials in common");
  }
  let sum = 0;
  for (const row of rows) {
    let effectMean = 0;
    for (const j of row.columns) effectMean += effects[j] / row.columns.length;
    row.columns.forEach((j, index) => {
      sum += (row.deviations[index] - effects[j] + effectMean) ** 2;
    });
  }
  return { meanSquare: sum / degreesOfFreedom, degreesOfFreedom };
}

/** Gauss-Jordan with pivots; directions without a pivot (the common level, unlinked trials) get effect zero. */
function solveSingular(augmented: number[][], size: number): { effects: number[]; rank: number } {
  const pivotRow = new Array<number>(size).fill(-1);
  const used = new Array<boolean>(size).fill(false);
  let rank = 0;
  for (let column = 0; column < size; column++) {
    let best = -1;
    for (let row = 0; row < size; row++) {
      if (!used[row] && (best < 0 || Math.abs(augmented[row][column]) > Math.abs(augmented[best][column]))) best = row;
    }
    if (best < 0 || Math.abs(augmented[best][column]) < 1e-9) continue;
    used[best] = true;
    pivotRow[column] = best;
    rank++;
    for (let row = 0; row < size; row++) {
      if (row === best) continue;
      const factor = augmented[row][column] / augmented[best][column];
      for (let k = column; k <= size; k++) augmented[row][k] -= factor * augmented[best][k];
    }
  }
  const effects = pivotRow.map((row, column) => (row < 0 ? 0 : augmented[row][size] / augmented[row][column]));
  return { effects, rank };
}
