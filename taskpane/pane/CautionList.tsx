import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { Test } from "../../src/protocols/Protocol.ts";
import { cautions, resultCautions } from "../../src/wording/cautions.ts";
import { Section } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { margin: 0, padding: "8px 8px 8px 24px", borderLeft: `3px solid ${tokens.colorStatusWarningBorderActive}`, backgroundColor: tokens.colorNeutralBackground2, display: "flex", flexDirection: "column", gap: "4px" },
});

/** What to heed before a test is chosen, and (on request) where a result is read. */
export function CautionList({ test, withResults, heading }: { readonly test?: Test; readonly withResults?: boolean; readonly heading?: string }): ReactNode {
  const styles = useStyles();
  return (
    <Section heading={heading ?? words.explain.cautions}>
      <ul className={styles.list}>
        {[...(withResults === true ? resultCautions() : []), ...cautions(test)].map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </Section>
  );
}
