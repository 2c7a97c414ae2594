import type { TracePlotData } from "./TracePlotData.ts";

/** A trial to lay over others. */
export interface OverlayTrial {
  readonly label: string;
  readonly rate: number;
  /** Corrected force of the sum, N. */
  readonly force: Float64Array;
  /** Where it is aligned, s from its sample zero. */
  readonly at: number;
}

/**
 * Trials of one athlete over each other, aligned at one instant of each (take-off), on the samples of the first.
 *
 * Others are read by straight lines between their samples; where a trial has no samples it has no line.
 */
export function overlayData(trials: readonly OverlayTrial[], before: number, after: number): TracePlotData {
  const rate = trials[0].rate;
  const count = Math.floor((before + after) * rate) + 1;
  const time = new Float64Array(count);
  for (let i = 0; i < count; i++) time[i] = i / rate - before;
  const series = trials.map((trial, place) => {
    const values = new Float64Array(count).fill(NaN);
    for (let i = 0; i < count; i++) {
      const at = (trial.at + time[i]) * trial.rate;
      const low = Math.floor(at);
      if (low < 0 || low + 1 >= trial.force.length) continue;
      values[i] = trial.force[low] + (at - low) * (trial.force[low + 1] - trial.force[low]);
    }
    return place === 0
      ? ({ quantity: "force", side: "total", label: trial.label, values } as const)
      : ({ quantity: "force", side: "other", label: trial.label, values, pattern: place - 1 } as const);
  });
  return { time, series, events: [], phases: [], doubts: [] };
}
