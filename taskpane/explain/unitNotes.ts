import { formatValue, formatWorking } from "../pane/format.ts";
import { inUnits } from "../pane/shownUnits.ts";
import type { UnitChoice } from "../pane/withUnits.ts";
import { words } from "../pane/words.ts";
import type { MetricExplanation } from "./explainMetric.ts";

/** Where units differ: a cell shows what its formula asks for, its working is in SI, and Results may show neither. */
export interface UnitNotes {
  /** The value of the cell as Results would show it. */
  readonly value?: string;
  /** From the unit of the working to that of the cell. */
  readonly working?: string;
}

export function unitNotes({ metric, value, steps }: MetricExplanation, units: UnitChoice): UnitNotes {
  if (value === undefined) return {};
  const shown = inUnits(value, units);
  return {
    ...(shown.unit === value.unit ? {} : { value: words.explain.asInResults(formatValue(shown.value, shown.unit, shown.u)) }),
    ...(metric.factor === 1 || steps.length === 0 ? {} : { working: words.explain.workingInSi(formatWorking(value.value / metric.factor, steps[steps.length - 1].unit), formatWorking(value.value, value.unit)) }),
  };
}
