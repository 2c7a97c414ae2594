import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { MetricValue } from "../../src/protocols/Analysis.ts";
import { decimalsFor, formatNumber, prettyUnit } from "./format.ts";
import { inUnits } from "./shownUnits.ts";
import { metricName } from "./texts.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  table: { width: "100%", borderCollapse: "collapse", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "baseline", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` } },
  name: { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" },
  value: { textAlign: "right !important" as "right", whiteSpace: "nowrap", fontVariantNumeric: "tabular-nums" },
  unit: { whiteSpace: "nowrap", color: tokens.colorNeutralForeground2 },
});

/** Metrics with value, uncertainty and unit. */
export function NumbersTable({ metrics }: { readonly metrics: readonly MetricValue[] }): ReactNode {
  const styles = useStyles();
  const units = useUnits();
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">{words.trials.metric}</th>
          <th scope="col" className={styles.value}>{words.trials.value}</th>
          <th scope="col">{words.bringIn.unitShort}</th>
        </tr>
      </thead>
      <tbody>
        {metrics.map((metric) => {
          const { value, unit, u } = inUnits(metric, units);
          const decimals = decimalsFor(value, unit, u);
          return (
            <tr key={metric.id}>
              <th scope="row" className={styles.name}>{metricName(metric.id)}</th>
              <td className={styles.value}>
                {formatNumber(value, decimals)}
                {u !== undefined && u > 0 ? ` \u00b1 ${formatNumber(u, decimals)}` : ""}
              </td>
              <td className={styles.unit}>{prettyUnit(unit)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
