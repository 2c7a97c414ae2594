import { loadSource } from "../../../scripts/loadSource.js";
import { best } from "../measure.js";
import { jump } from "../trial.js";

const { packTrace } = await loadSource("src/trace/packTrace.ts");
const { unpackTrace } = await loadSource("src/trace/unpackTrace.ts");

const CELL = 32_767;

/** A trace to the text of a cell and back, and what fits one cell. */
export default async function packing() {
  const long = jump(5, { quietBefore: 3, quietAfter: 4 });
  const trace = { ...long, plates: long.plates.map(({ role, force }) => ({ role, force: force.slice(0, 8000) })) };
  if (trace.plates.some(({ force }) => force.length !== 8000)) throw new Error("8 s were asked for");
  const cells = packTrace(trace);
  const back = unpackTrace(cells);
  const worst = Math.max(...trace.plates.map(({ force }, p) => force.reduce((most, value, i) => Math.max(most, Math.abs(value - back.plates[p].force[i])), 0)));
  const megabytes = (16 * 8000) / 1e6;
  const pack = () => packTrace(trace);
  const unpack = () => unpackTrace(cells);
  best(pack, 200);
  best(unpack, 200);
  const packed = megabytes / best(pack, 1500);
  const unpacked = megabytes / best(unpack, 1500);
  return [
    { id: "pack", work: "packing 8 s of two plates at 1000 Hz, MB/s of samples", value: `${packed.toFixed(0)} MB/s`, ratio: packed, target: { least: 60 }, absolute: true },
    { id: "unpack", work: "unpacking them", value: `${unpacked.toFixed(0)} MB/s`, ratio: unpacked, target: { least: 60 }, absolute: true },
    {
      id: "cell", work: "their characters, as a share of one cell", value: `${cells.map((cell) => cell.length).join(" + ")} characters`, ratio: cells.reduce((sum, cell) => sum + cell.length, 0) / CELL, less: true, target: { most: 1 },
      note: `noise of 1 N on each plate; packing moved no sample by more than ${worst.toFixed(3)} N`,
    },
  ];
}
