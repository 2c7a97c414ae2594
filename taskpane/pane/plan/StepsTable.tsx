import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";
import type { PlanStep } from "../../workbook/plan.ts";
import { protocolWords } from "../protocolWords.ts";
import { useGrowing } from "../useGrowing.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";

const useStyles = makeStyles({
  scroll: { overflowX: "auto", maxHeight: "360px" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& thead th": { position: "sticky", top: 0, backgroundColor: tokens.colorNeutralBackground1 }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" }, "& td": { whiteSpace: "nowrap" }, "& td:nth-child(3)": { whiteSpace: "normal" } },
});

/** The steps of a plan in their order. */
export function StepsTable({ steps, label }: { readonly steps: readonly PlanStep[]; readonly label: string }): ReactNode {
  const styles = useStyles();
  const units = useUnits();
  const shown = useGrowing(steps.length);
  return (
    <div className={styles.scroll} tabIndex={0} role="group" aria-label={label}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{words.plan.number}</th>
            <th scope="col">{words.plan.athlete}</th>
            <th scope="col">{words.plan.test}</th>
            <th scope="col">{words.plan.trial}</th>
            <th scope="col">{words.plan.restHead}</th>
          </tr>
        </thead>
        <tbody>
          {steps.slice(0, shown).map((step, place) => (
            <tr key={place}>
              <td>{place + 1}</td>
              <th scope="row">{step.athlete}</th>
              <td>{protocolWords(formatProtocol(step.protocol), units)}</td>
              <td>{words.plan.trialOf(step.trial, step.of)}</td>
              <td>{step.rest}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
