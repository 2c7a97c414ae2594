import { loadSource } from "../../../scripts/loadSource.js";
import { best, median, time } from "../measure.js";
import { nativeFormulas, recalculated } from "../peers/nativeFormulas.js";

const { analyse } = await loadSource("src/protocols/analyse.ts");
const { parseProtocol } = await loadSource("src/protocols/parseProtocol.ts");
const { DEFAULT_SETTINGS } = await loadSource("src/settings/defaultSettings.ts");

/** The same trial in ordinary formulas of a spreadsheet. */
export default async function officeFormulas({ trial, folder }) {
  const sheet = nativeFormulas(trial);
  const done = recalculated(folder, sheet, 15);
  if (done === undefined) {
    console.error("LibreOffice is not installed: its row is left out");
    return [];
  }
  const protocol = parseProtocol("CMJ");
  const once = () => analyse(trial, protocol, DEFAULT_SETTINGS);
  const height = once().metrics.get("jumpHeight").value;
  if (!(Math.abs(done.height - height) < 0.02 * height)) throw new Error(`the sheet finds ${done.height} m, the analysis ${height} m: they do not do the same work`);
  best(once, 2000);
  const ours = best(once, 4000);
  const row = (id, how, { milliseconds }) => {
    const peer = Math.min(...milliseconds) / 1000;
    return {
      id, work: `the same jump in ${sheet.formulas} ordinary formulas (${sheet.values} values, no checks), recalculated by LibreOffice ${how}`,
      value: time(ours), peer: time(peer), ratio: peer / ours, middle: median(milliseconds) / 1000 / ours,
    };
  };
  // The analysis has one processor; LibreOffice shares columns of like formulas out among all of them unless a person sets that off.
  return [{ ...row("office", "on all processors", done), target: { least: 500 } }, row("officeOne", "on one processor, as the analysis", recalculated(folder, sheet, 15, false))];
}
