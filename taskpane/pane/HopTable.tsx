import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { Hop } from "../../src/protocols/Analysis.ts";
import { formatNumber } from "./format.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  scroll: { overflowX: "auto" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "right", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& tbody th": { fontWeight: tokens.fontWeightRegular } },
  reason: { textAlign: "left !important" as "left", color: tokens.colorNeutralForeground2 },
});

/** The hops of a series, one a row; one that does not count says why. */
export function HopTable({ hops }: { readonly hops: readonly Hop[] }): ReactNode {
  const styles = useStyles();
  return (
    <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.trials.hops}>
      <table className={styles.table}>
        <thead>
          <tr>
            {words.trials.hopHead.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {hops.map((hop) => (
            <tr key={hop.number}>
              <th scope="row">{hop.number}</th>
              <td>{formatNumber(1000 * hop.contactTime, 0)}</td>
              <td>{formatNumber(1000 * hop.flightTime, 0)}</td>
              <td>{formatNumber(100 * hop.height, 1)}</td>
              <td>{formatNumber(hop.rsi, 2)}</td>
              <td className={styles.reason}>{hop.valid ? words.about.yes : `${words.about.no}${hop.reason === undefined ? "" : `: ${hop.reason}`}`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
