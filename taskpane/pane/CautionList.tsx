import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { Test } from "../../src/protocols/Protocol.ts";
import { cautions, resultCautions } from "../../src/wording/cautions.ts";
import { Section } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { margin: 0, padding: "8px 8px 8px 24px", borderLeft: `3px solid ${tokens.colorStatusWarningBorderActive}`, backgroundColor: tokens.colorNeutralBackground2, display: "flex", flexDirection: "column", gap: "4px" },
  details: { marginTop: "6px" },
});

/** What to heed: where a result is read, or (without results) where a test is chosen. Who may be tested at all is a fold away. */
export function CautionList({ test, withResults, heading, open }: { readonly test?: Test; readonly withResults?: boolean; readonly heading?: string; readonly open?: boolean }): ReactNode {
  const styles = useStyles();
  const general = cautions();
  const particular = test === undefined ? [] : cautions(test).filter((text) => !general.includes(text));
  const first = [...(withResults === true ? resultCautions() : []), ...particular];
  return (
    <Section heading={heading ?? words.explain.cautions}>
      {first.length > 0 && (
        <ul className={styles.list}>
          {first.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <details open={open} className={styles.details}>
        <summary>{words.explain.whoMay}</summary>
        <ul className={styles.list}>
          {general.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </details>
    </Section>
  );
}
