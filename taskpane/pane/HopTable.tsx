import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { Hop } from "../../src/protocols/Analysis.ts";
import { decimalsFor, formatNumber } from "./format.ts";
import { shownUnit, type ShownUnit } from "./shownUnits.ts";
import { headOf } from "./texts.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  scroll: { overflowX: "auto" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "right", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& tbody th": { fontWeight: tokens.fontWeightRegular } },
  reason: { textAlign: "left !important" as "left", color: tokens.colorNeutralForeground2 },
});

/** The hops of a series, one a row; one that does not count says why. */
export function HopTable({ hops }: { readonly hops: readonly Hop[] }): ReactNode {
  const styles = useStyles();
  const units = useUnits();
  const [time, length] = [shownUnit("s", units), shownUnit("m", units)];
  const print = (si: number, { unit, factor }: ShownUnit): string => formatNumber(si * factor, decimalsFor(si * factor, unit));
  const { number, contact, flight, height, index, counts } = words.trials.hopHead;
  return (
    <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.trials.hops}>
      <table className={styles.table}>
        <thead>
          <tr>
            {[number, headOf(contact, time.unit), headOf(flight, time.unit), headOf(height, length.unit), index, counts].map((head) => (
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
              <td>{print(hop.contactTime, time)}</td>
              <td>{print(hop.flightTime, time)}</td>
              <td>{print(hop.height, length)}</td>
              <td>{formatNumber(hop.rsi, 2)}</td>
              <td className={styles.reason}>{hop.valid ? words.about.yes : `${words.about.no}${hop.reason === undefined ? "" : `: ${hop.reason}`}`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
