import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { partsOfLikeText } from "../../src/sessions/likeText.ts";
import { testName } from "../../src/wording/testName.ts";
import { formatNumber } from "./format.ts";
import { words } from "./words.ts";

/** A protocol text in words: "Drop jump, hands on hips, from 0.30 m"; the text itself where it cannot be read. */
export function protocolWords(text: string): string {
  try {
    const { test, arms, limb, dropHeight, load } = parseProtocol(partsOfLikeText(text).protocol);
    return [
      testName(test),
      arms === undefined ? "" : words.protocol[arms],
      limb === undefined ? "" : words.protocol[limb],
      dropHeight === undefined ? "" : words.protocol.from(formatNumber(dropHeight, 2)),
      load === undefined || load === 0 ? "" : words.protocol.load(formatNumber(load, load % 1 === 0 ? 0 : 1)),
      words.protocol.by[partsOfLikeText(text).instrument],
    ]
      .filter((part) => part !== "")
      .join(", ");
  } catch {
    return text === "" ? words.protocol.none : text;
  }
}
