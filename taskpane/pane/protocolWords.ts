import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { partsOfLikeText } from "../../src/sessions/likeText.ts";
import { testName } from "../../src/wording/testName.ts";
import { decimalsFor, formatNumber, formatTick } from "./format.ts";
import { inUnits, SI } from "./shownUnits.ts";
import type { UnitChoice } from "./withUnits.ts";
import { words } from "./words.ts";

/** A protocol text in words: "Drop jump, hands on hips, from 0.30 m"; the text itself where it cannot be read. In SI unless told. */
export function protocolWords(text: string, units: UnitChoice = SI): string {
  try {
    const { test, arms, limb, dropHeight, load } = parseProtocol(partsOfLikeText(text).protocol);
    return [
      testName(test),
      arms === undefined ? "" : words.protocol[arms],
      limb === undefined ? "" : words.protocol[limb],
      dropHeight === undefined ? "" : words.protocol.from(stated(dropHeight, "m", units)),
      load === undefined || load === 0 ? "" : words.protocol.load(stated(load, "kg", units)),
      words.protocol.by[partsOfLikeText(text).instrument],
    ]
      .filter((part) => part !== "")
      .join(", ");
  } catch {
    return text === "" ? words.protocol.none : text;
  }
}

/** A number that was asked for: no more decimals than its unit is printed with, and no empty ones but those of metres, as protocols state them. */
function stated(value: number, si: "m" | "kg", units: UnitChoice): string {
  const { value: shown, unit } = inUnits({ value, unit: si }, units);
  return `${unit === "m" ? formatNumber(shown, 2) : formatTick(Number(shown.toFixed(decimalsFor(shown, unit))))} ${unit}`;
}
