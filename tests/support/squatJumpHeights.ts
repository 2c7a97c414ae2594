import { dataText } from "./data.ts";

/** Squat-jump heights, m, of 60 people at five occasions (Jimenez-Reyes et al. 2019, PLOS ONE 14:e0216681). */
export function squatJumpHeights(): number[][] {
  const [head, ...lines] = dataText("real/stats/jimenez_reyes_2019_sj.csv").trim().split(/\r?\n/);
  const columns = head.split(",").flatMap((name, index) => (name.includes(".SJ") ? [index] : []));
  return lines.map((line) => {
    const cells = line.split(",");
    return columns.map((column) => Number(cells[column]));
  });
}
