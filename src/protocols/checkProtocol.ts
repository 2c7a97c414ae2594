import type { Protocol } from "./Protocol.ts";
import { InputError } from "../errors.ts";

/** Drop heights people are asked to do, m. Thirty centimetres written as 30 fall outside. Common practice. */
const DROP_HEIGHTS = [0.05, 1.5] as const;
/** Heaviest external load, kg. Common practice. */
const HEAVIEST_LOAD = 500;

/**
 * Refuses a protocol that nobody can perform, and gives the rest back.
 *
 * @param protocol What was stated; drop height in m, load in kg.
 * @returns The same protocol.
 * @throws {InputError} `out-of-range` for a drop height or load that is not plausible.
 * @throws {InputError} `wrong-shape` for a part that does not belong to the test.
 */
export function checkProtocol(protocol: Protocol): Protocol {
  const { test, arms, dropHeight, load } = protocol;
  if (dropHeight !== undefined) {
    if (test !== "DJ") throw new InputError("wrong-shape", `a drop height requires the test DJ, not ${test}`);
    if (!(dropHeight >= DROP_HEIGHTS[0] && dropHeight <= DROP_HEIGHTS[1])) {
      throw new InputError("out-of-range", `a drop height requires ${DROP_HEIGHTS[0]} to ${DROP_HEIGHTS[1]} m, not ${dropHeight}`);
    }
  }
  if (load !== undefined) {
    if (test === "IMTP") throw new InputError("wrong-shape", "a load requires a jump, not IMTP");
    if (!(load >= 0 && load <= HEAVIEST_LOAD)) throw new InputError("out-of-range", `a load requires 0 to ${HEAVIEST_LOAD} kg, not ${load}`);
  }
  if (arms !== undefined && test === "IMTP") throw new InputError("wrong-shape", "arms require a jump, not IMTP");
  return protocol;
}
