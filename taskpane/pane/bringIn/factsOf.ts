import type { Protocol } from "../../../src/protocols/Protocol.ts";
import { words } from "../words.ts";
import type { CommonFacts } from "./IncomingFile.ts";

/** Facts as typed, read; a sentence by field where one cannot be read. */
export interface ReadFacts {
  readonly protocol: Protocol;
  readonly mass?: number;
  readonly problems: Partial<Record<"dropHeight" | "load" | "mass", string>>;
}

/** Reads the facts that all files share. A field that does not belong to the test is left out of the protocol. */
export function factsOf(common: CommonFacts): ReadFacts {
  const problems: Partial<Record<"dropHeight" | "load" | "mass", string>> = {};
  const number = (field: "dropHeight" | "load" | "mass", label: string): number | undefined => {
    const text = common[field].trim();
    if (text === "") return undefined;
    const value = Number(text.replace(",", "."));
    if (!Number.isFinite(value)) problems[field] = words.bringIn.notNumber(label);
    else if (value < 0) problems[field] = words.bringIn.notAbove(label);
    else return value;
    return undefined;
  };
  const dropHeight = common.test === "DJ" ? number("dropHeight", words.bringIn.dropHeight) : undefined;
  const load = number("load", words.bringIn.load);
  const mass = number("mass", words.bringIn.mass);
  const protocol: Protocol = {
    test: common.test,
    ...(common.test !== "IMTP" && common.arms !== "" ? { arms: common.arms } : {}),
    ...(common.limb === "" ? {} : { limb: common.limb }),
    ...(dropHeight === undefined ? {} : { dropHeight }),
    ...(load === undefined || load === 0 ? {} : { load }),
  };
  return { protocol, ...(mass === undefined || mass === 0 ? {} : { mass }), problems };
}
