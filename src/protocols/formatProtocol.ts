import type { Protocol } from "./Protocol.ts";
import { checkProtocol } from "./checkProtocol.ts";

/**
 * The text of a protocol in its one canonical order: `TEST drop=0.30 arms=hips limb=both load=20`.
 *
 * Only what was stated is printed, so equal texts are like protocols and sheets can group by that column.
 *
 * @param protocol Drop height in m, load in kg.
 * @returns Text that `parseProtocol` reads back to the same protocol.
 * @throws {InputError} `out-of-range`, `wrong-shape` as `parseProtocol`.
 */
export function formatProtocol(protocol: Protocol): string {
  const { test, dropHeight, arms, limb, load } = checkProtocol(protocol);
  const words: string[] = [test];
  if (dropHeight !== undefined) words.push(`drop=${metres(dropHeight)}`);
  if (arms !== undefined) words.push(`arms=${arms}`);
  if (limb !== undefined) words.push(`limb=${limb}`);
  if (load !== undefined) words.push(`load=${load}`);
  return words.join(" ");
}

/** At least two decimals, so that 0.3 and 0.30 give one text. */
function metres(value: number): string {
  const text = String(value);
  const decimals = text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
  return decimals < 2 ? value.toFixed(2) : text;
}
