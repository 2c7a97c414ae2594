import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { syntheticTrial } from "../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import { optionalNumber, requiredText, singleFrom } from "./runtime/cells.ts";

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
  const { trace } = syntheticTrial({
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
