import { csvParseRows } from "d3-dsv";
import Papa from "papaparse";
import { inferSchema, initParser } from "udsv";
import { loadSource } from "../../../scripts/loadSource.js";
import { best, compared, time } from "../measure.js";

const { readRecording } = await loadSource("src/read/readRecording.ts");

/** A delimited recording, from its bytes to force in typed arrays; the others the same way, to arrays of numbers. */
export default async function reading({ trial, text, python }) {
  const bytes = new TextEncoder().encode(text);
  const decode = () => new TextDecoder().decode(bytes);
  const [left] = trial.plates.map(({ force }) => force);
  const ours = () => readRecording(bytes, "trial.csv").trace();
  const read = ours();
  if (read.plates.length !== 2 || read.plates[0].force.length !== left.length || Math.abs(read.plates[0].force[77] - left[77]) > 1e-6) throw new Error("the recording reads as something else");

  const columnOf = (rows, k) => Float64Array.from(rows, (row) => row[k]);
  const libraries = {
    "d3-dsv": () => {
      const rows = csvParseRows(decode(), (row, i) => (i === 0 ? null : row.map(Number)));
      return [columnOf(rows, 1), columnOf(rows, 2)];
    },
    papaparse: () => {
      const { data } = Papa.parse(decode(), { dynamicTyping: true, skipEmptyLines: true, fastMode: true });
      const rows = data.slice(1);
      return [columnOf(rows, 1), columnOf(rows, 2)];
    },
    udsv: () => {
      const string = decode();
      const rows = initParser(inferSchema(string)).typedArrs(string);
      return [columnOf(rows, 1), columnOf(rows, 2)];
    },
  };
  for (const [name, work] of Object.entries(libraries)) {
    const [theirs] = work();
    if (theirs.length !== left.length || theirs[77] !== read.plates[0].force[77]) throw new Error(`${name} reads something else`);
  }
  best(ours, 100);
  const rows = [];
  const size = `${(bytes.length / 1000).toFixed(0)} kB`;
  const speed = (seconds) => `${time(seconds)}, ${(bytes.length / seconds / 1e6).toFixed(0)} MB/s`;
  if (python !== undefined) {
    const pandas = await compared(15, () => best(ours, 20), async () => (await python.ask("read 10")).seconds);
    rows.push({
      id: "reading", work: `reading ${size} of delimited text: layout, columns, units and rate found, every number to the last digit`,
      value: speed(pandas.ours), peer: `pandas: ${time(pandas.peer)}`, ratio: pandas.ratio, middle: pandas.middle, target: { least: 3 },
    });
    const exact = await compared(8, () => best(ours, 20), async () => (await python.ask("read-exact 10")).seconds);
    rows.push({ id: "reading-exact", work: "the same beside pandas told to read every number to the last digit", value: time(exact.ours), peer: time(exact.peer), ratio: exact.ratio, middle: exact.middle });
  }
  for (const [name, work] of Object.entries(libraries)) {
    best(work, 20);
    const against = await compared(8, () => best(ours, 20), () => best(work, 10));
    rows.push({ id: `reading-${name}`, work: `the same beside ${name}`, value: time(against.ours), peer: time(against.peer), ratio: against.ratio, middle: against.middle });
  }
  return rows;
}
