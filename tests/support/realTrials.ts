import { findTrials } from "../../src/events/findTrials.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import type { Adjust } from "../../src/protocols/Adjust.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import type { ImportRecipe } from "../../src/read/ImportRecipe.ts";
import { readRecording } from "../../src/read/readRecording.ts";
import { sliceTrace } from "../../src/trace/sliceTrace.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import { dataBytes } from "./data.ts";
import { vector, vectorTrace } from "./vectors.ts";

/** One trial to analyse: of a recording, or a vector with exact answers. */
export interface GivenTrial {
  readonly name: string;
  readonly trace: Trace;
  readonly protocol: Protocol;
  readonly adjust: Adjust;
}

// Weights of the two drop jumpers: the first from the standing trial of the same person, the second from outside (README of the data folder).
const RECORDINGS: readonly { readonly file: string; readonly protocol: string; readonly recipe?: ImportRecipe; readonly adjust?: string }[] = [
  { file: "bmc_teaching/GRFZjump.txt", protocol: "CMJ", recipe: { rate: 600 } },
  { file: "bmc_teaching/jump1.txt", protocol: "CMJ" },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj1.csv", protocol: "CMJ" },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj2.csv", protocol: "CMJ" },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj3.csv", protocol: "CMJ" },
  { file: "msk_cmj_sj/SJ2_grf.mot", protocol: "SJ" },
  { file: "sj_dual/BFR003_squat_jump.csv", protocol: "SJ" },
  { file: "sj_dual/BFR007_squat_jump.csv", protocol: "SJ" },
  { file: "c3d/jump_type4_two_plates.c3d", protocol: "CMJ" },
  { file: "dj_mot/subj4_DJ1_grf.mot", protocol: "DJ", adjust: "bodyWeight=589" },
  { file: "dj_mot/subj5_DJ1_forces.mot", protocol: "DJ", adjust: "bodyWeight=779" },
];

/** Every trial in the recordings of the data folder, cut as an import cuts it. */
export function recordedTrials(): readonly GivenTrial[] {
  return RECORDINGS.flatMap(({ file, protocol, recipe, adjust }) => {
    const trace = readRecording(dataBytes(`real/${file}`), file.slice(file.indexOf("/") + 1), recipe).trace();
    const asked = parseProtocol(protocol);
    return findTrials(trace, asked.test).map(({ start, end }, index) => ({
      name: `${file} ${index + 1}`,
      trace: sliceTrace(trace, start, end),
      protocol: asked,
      adjust: parseAdjust(adjust ?? ""),
    }));
  });
}

const VECTOR_TESTS: Readonly<Record<string, string>> = { V06: "CMJ limb=left", V07: "SJ", V08: "SJ", V09: "DJ", V10: "DJ", V11: "RH", V12: "IMTP" };

/** The twelve vectors, each under the test it stands for. */
export function vectorTrials(): readonly GivenTrial[] {
  return Array.from({ length: 12 }, (_, index) => `V${String(index + 1).padStart(2, "0")}`).map((id) => ({
    name: id,
    trace: vectorTrace(vector(id)),
    protocol: parseProtocol(VECTOR_TESTS[id] ?? "CMJ"),
    adjust: parseAdjust(""),
  }));
}
