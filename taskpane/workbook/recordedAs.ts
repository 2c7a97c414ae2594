import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";

/** A column that holds a metric: its numbers times the factor are in the unit that was asked for. */
export interface RecordedColumn {
  readonly column: string;
  readonly factor: number;
}

/**
 * Columns of Record that hold a metric, that of the very name first. What was recorded keeps the unit that the head of Results had then.
 *
 * @param name Metric with the unit that is asked for.
 * @param columns Heads of Record.
 */
export function recordedAs(name: string, columns: Iterable<string>): readonly RecordedColumn[] {
  const wanted = metricOf(name);
  const found: RecordedColumn[] = [];
  for (const column of columns) {
    const metric = metricOf(column);
    if (column === name) found.unshift({ column, factor: 1 });
    else if (wanted !== undefined && metric?.id === wanted.id) found.push({ column, factor: wanted.factor / metric.factor });
  }
  return found;
}

function metricOf(name: string): { readonly id: string; readonly factor: number } | undefined {
  try {
    return resolveMetricName(name);
  } catch {
    return undefined;
  }
}
