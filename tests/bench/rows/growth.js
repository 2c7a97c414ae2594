import { loadSource } from "../../../scripts/loadSource.js";
import { best, logSlope, time } from "../measure.js";
import { jump } from "../trial.js";

const { analyse } = await loadSource("src/protocols/analyse.ts");
const { parseProtocol } = await loadSource("src/protocols/parseProtocol.ts");
const { findTrials } = await loadSource("src/events/findTrials.ts");
const { DEFAULT_SETTINGS } = await loadSource("src/settings/defaultSettings.ts");

const SIZES = [1e3, 3e3, 1e4, 3e4, 1e5, 3e5, 1e6];

/** How time grows: with finer sampling of the same jump, with a longer record around it, and with the number of jumps in one record. */
export default async function growth() {
  const protocol = parseProtocol("CMJ");
  const finer = SIZES.map((samples) => jump(7, { rate: samples / 6.2 }));
  const longer = SIZES.map((samples) => jump(7, { rate: 200, quietBefore: Math.max(1.5, samples / 200 - 4) }));
  const rows = [];
  for (const [id, work, traces] of [["growth-rate", "the same jump sampled finer, 1,000 to 1,000,000 samples", finer], ["growth-length", "a longer record around it, 1,000 to 1,000,000 samples", longer]]) {
    const points = traces.map((trace) => {
      const samples = trace.plates[0].force.length;
      const once = () => analyse(trace, protocol, DEFAULT_SETTINGS);
      if (once().metrics.get("jumpHeight") === undefined) throw new Error(`no height from ${samples} samples`);
      best(once, Math.min(500, Math.ceil(2e6 / samples)));
      return [samples, best(once, Math.min(800, Math.ceil(2e7 / samples)))];
    });
    rows.push({ id, work: `analysis, ${work}: slope of log time on log samples`, value: points.filter((_, i) => i % 2 === 0).map(([, seconds]) => time(seconds)).join(" → "), ratio: logSlope(points), less: true, target: { most: 1.05 }, note: `from ${points.at(-3)[0]} samples on: ${logSlope(points.slice(-3)).toFixed(2)}` });
  }
  const one = jump(11);
  const points = [1, 4, 16, 64].map((count) => {
    const plates = one.plates.map(({ role, force }) => {
      const joined = new Float64Array(force.length * count);
      for (let k = 0; k < count; k++) joined.set(force, k * force.length);
      return { role, force: joined };
    });
    const record = { ...one, plates };
    const once = () => findTrials(record, "CMJ");
    const found = once().length;
    if (found !== count) throw new Error(`${found} of ${count} jumps were found`);
    best(once, 50);
    return [count, best(once, Math.ceil(400 / count))];
  });
  rows.push({ id: "growth-trials", work: "finding 1 to 64 jumps in one record: slope of log time on log jumps", value: points.map(([, seconds]) => time(seconds)).join(" → "), ratio: logSlope(points), less: true, target: { most: 1.05 } });
  return rows;
}
