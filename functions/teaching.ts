import { markAnswer as mark } from "../src/coursework/markAnswer.ts";
import { InputError } from "../src/errors.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { syntheticTrace } from "../src/synthetic/syntheticTrace.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import { cellByCell } from "./runtime/cellByCell.ts";
import { isGiven, numberFrom, optionalNumber, requiredText, rowsFrom, singleFrom, throwIfError } from "./runtime/cells.ts";

/**
 * A synthetic trial as the text of trace cells, for practice and for tests: equal arguments give equal traces. No recording of a person.
 * @customfunction SYNTHETIC
 * @param protocol Test or protocol text, such as "CMJ" or "DJ drop=0.30".
 * @param [seed] Whole number; another seed gives other noise and sway. 1 when left out.
 * @param [height] Jump height to reach, in m.
 * @param [mass] Body mass, in kg; 75 when left out.
 * @param [leftShare] Share of the force on the left plate, from 0 to 1; 0.5 when left out.
 * @param [noise] White noise of each plate, standard deviation in N; none when left out.
 * @param [sway] Sway in quiet standing, standard deviation in N; none when left out.
 * @param [rate] Sampling rate, in Hz; 1000 when left out.
 * @returns One to four trace cells, side by side.
 */
export function synthetic(protocol: any, seed?: any, height?: any, mass?: any, leftShare?: any, noise?: any, sway?: any, rate?: any): string[][] {
  const number = (value: unknown, what: string) => optionalNumber(singleFrom(value, what), what, undefined);
  const { test, arms, limb, dropHeight, load } = parseProtocol(requiredText(singleFrom(protocol, "protocol"), "protocol"));
  const given = <T extends Record<string, unknown>>(options: T) => Object.fromEntries(Object.entries(options).filter(([, value]) => value !== undefined)) as T;
  const { trace } = syntheticTrace({
    test,
    ...given({
      arms,
      limb,
      load,
      drop: dropHeight,
      seed: number(seed, "seed"),
      height: number(height, "height"),
      mass: number(mass, "mass"),
      leftShare: number(leftShare, "left share"),
      rate: number(rate, "rate"),
      faults: given({ noise: number(noise, "noise"), sway: number(sway, "sway") }),
    }),
  });
  return [[...packTrace(trace)]];
}

/**
 * Marks an answer against its key: right within the tolerance, a usual mistake that gives this very number, or wrong.
 * @customfunction MARK_ANSWER
 * @param answer Answer; a cell or a range. Blank and 0 count as not answered.
 * @param key Exact answer, in the same unit; a cell or a range.
 * @param tolerance Accepted distance from the exact answer, in the same unit.
 * @param [mistakes] Two columns: id of a usual mistake, and the number it leads to; for a single answer.
 * @returns A sentence that begins with the outcome.
 */
export function markAnswer(answer: any[][], key: any[][], tolerance: any[][], mistakes?: any[][]): any[][] {
  const usual = rowsFrom(mistakes)
    .filter((row) => isGiven(row[0]))
    .map((row) => ({ id: requiredText(row[0], "mistake"), value: numberFrom(row[1], "number of a mistake") }));
  // Keeps text as it is, so that words in an answer cell are marked rather than refused.
  const answers = rowsFrom(answer);
  const single = answers.length === 1 && answers[0].length === 1;
  if (usual.length > 0 && !single) throw new InputError("wrong-shape", "marking with usual mistakes requires a single answer");
  const positions = answers.map((row, r) => row.map((_, c) => r * row.length + c + 1));
  const given = answers.flat();
  return cellByCell(
    "marking",
    [
      { name: "position", value: positions },
      { name: "key", value: key, zero: "counts" },
      { name: "tolerance", value: tolerance },
    ],
    (position: number, value: number, accepted: number) => {
      const cell = given[position - 1];
      throwIfError(cell);
      return mark(cell === 0 ? "" : cell, { metric: "", unit: "", value, tolerance: accepted, mistakes: usual }).message;
    },
  );
}
