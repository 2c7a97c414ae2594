import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { Trial } from "../../src/protocols/Trial.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import { ownMemory } from "../../src/trace/memory.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import type { Asked } from "./secondOpinion.ts";

/** A trial at the beginning of its analysis, with its steps written down, for tests of the parts of an analysis. */
export function trialOf(trace: Trace, { protocol, adjust = "", choices = [] }: Asked): Trial {
  return new Trial(trace, parseProtocol(protocol), settingsFrom(choices), parseAdjust(adjust), ownMemory, true);
}
