import { loadSource } from "../../../scripts/loadSource.js";
import { best, compared, time } from "../measure.js";

const { analyse } = await loadSource("src/protocols/analyse.ts");
const { parseProtocol } = await loadSource("src/protocols/parseProtocol.ts");
const { DEFAULT_SETTINGS } = await loadSource("src/settings/defaultSettings.ts");

/** One countermovement jump: everything about it, beside twenty numbers by a script. */
export default async function analysis({ trial, python }) {
  const protocol = parseProtocol("CMJ");
  const [left, right] = trial.plates.map(({ force }) => force);
  let sink = 0;
  // With the map of its metrics, which is made when somebody asks for one.
  const whole = () => {
    const analysed = analyse(trial, protocol, DEFAULT_SETTINGS);
    sink += analysed.metrics.size;
    return analysed;
  };
  const { metrics, findings, verdict } = whole();
  if (metrics.size < 60 || verdict === "leave out") throw new Error(`the trial gives ${metrics.size} metrics and “${verdict}”`);
  best(whole, 2000);
  const rows = [];

  const sum = () => {
    let total = 0;
    for (let i = 0; i < left.length; i++) total += left[i] + right[i];
    sink += total;
  };
  best(sum, 2000);
  const passes = await compared(20, () => best(whole, 200), () => best(sum, 500));
  if (!Number.isFinite(sink)) throw new Error("the sum has to be a number");
  rows.push({
    id: "passes", work: "the same analysis, as a multiple of one pass that sums both plates", value: time(passes.ours), peer: time(passes.peer),
    ratio: passes.ours / passes.peer, middle: 1 / passes.middle, less: true,
  });

  const everything = await compared(10, () => best(() => {
    const analysed = whole();
    return analysed.steps.length + analysed.missing.size;
  }, 200), () => best(whole, 200));
  rows.push({ id: "steps", work: "with steps and reasons written out too (made when somebody asks)", value: time(everything.ours), peer: time(everything.peer), ratio: everything.ours / everything.peer, middle: 1 / everything.middle, less: true });

  if (python !== undefined) {
    const { height } = await python.ask("height");
    const ours = metrics.get("jumpHeight").value;
    if (Math.abs(height - ours) > 0.02 * ours) throw new Error(`the script finds ${height} m, the analysis ${ours} m: they do not do the same work`);
    const scipy = await compared(20, () => best(whole, 200), async () => (await python.ask("analyse 100")).seconds);
    rows.unshift({
      id: "analysis", work: `one jump, two plates, ${left.length} samples: ${metrics.size} values with uncertainty, ${findings.length} findings`,
      value: time(scipy.ours), peer: `SciPy, 20 values, no checks: ${time(scipy.peer)}`, ratio: scipy.ratio, middle: scipy.middle, target: { least: 2 },
    });
  }
  return rows;
}
