import { useId, type ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";

const useStyles = makeStyles({
  title: { margin: "0 0 8px", fontSize: tokens.fontSizeBase400, lineHeight: tokens.lineHeightBase400, fontWeight: tokens.fontWeightSemibold },
  section: { marginTop: "16px" },
  heading: { margin: "0 0 6px", fontSize: tokens.fontSizeBase300, lineHeight: tokens.lineHeightBase300, fontWeight: tokens.fontWeightSemibold },
});

/** Title of a view. */
export function ViewTitle({ children }: { readonly children: ReactNode }): ReactNode {
  return <h1 className={useStyles().title}>{children}</h1>;
}

/** A named part of a view. */
export function Section({ heading, children }: { readonly heading: string; readonly children: ReactNode }): ReactNode {
  const styles = useStyles();
  const id = useId();
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id} className={styles.heading}>
        {heading}
      </h2>
      {children}
    </section>
  );
}
