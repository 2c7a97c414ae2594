import { PLATE_ROLES, type Trace } from "../src/trace/Trace.ts";
import { parquetFile } from "./parquetFile.ts";

/** Samples of one row group, about: 30 MB while it is being written. */
const GROUP = 500_000;

/** The samples of every analysed trial as Apache Parquet, one row a sample; `file` and `trial` join them to the trials. */
export interface SamplesFile {
  add(file: string, trial: number, samples: Trace): Uint8Array;
  end(): Uint8Array[];
}

export function samplesFile(): SamplesFile {
  const file = parquetFile("samples", [
    { name: "file", kind: "text" },
    { name: "trial", kind: "count" },
    { name: "time", kind: "number", unit: "s" },
    ...PLATE_ROLES.map((role) => ({ name: `force${role[0].toUpperCase()}${role.slice(1)}`, kind: "number" as const, unit: "N" })),
  ]);
  let waiting: { file: string; trial: number; samples: Trace }[] = [];
  let count = 0;
  const group = (): Uint8Array => {
    const columns = columnsOf(waiting, count);
    waiting = [];
    count = 0;
    return file.group(columns);
  };
  return {
    add(name, trial, samples) {
      waiting.push({ file: name, trial, samples });
      count += lengthOf(samples);
      return count < GROUP ? new Uint8Array(0) : group();
    },
    end: () => [group(), file.end()],
  };
}

const lengthOf = (samples: Trace): number => samples.plates[0]?.force.length ?? 0;

/** `time` counts from the start of the file; a plate that a trial lacks is null. */
function columnsOf(trials: readonly { file: string; trial: number; samples: Trace }[], count: number): ArrayLike<unknown>[] {
  const files = new Array<string>(count);
  const numbers = new Array<number>(count);
  const times = new Array<number>(count);
  const forces = PLATE_ROLES.map(() => new Array<number | null>(count).fill(null));
  let at = 0;
  for (const { file, trial, samples } of trials) {
    const length = lengthOf(samples);
    files.fill(file, at, at + length);
    numbers.fill(trial, at, at + length);
    for (let i = 0; i < length; i++) times[at + i] = samples.start + i / samples.rate;
    for (const { role, force } of samples.plates) {
      const column = forces[PLATE_ROLES.indexOf(role)];
      for (let i = 0; i < length; i++) column[at + i] = force[i];
    }
    at += length;
  }
  return [files, numbers, times, ...forces];
}
