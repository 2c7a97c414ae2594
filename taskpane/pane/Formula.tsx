import { useEffect, useRef, type ReactNode } from "react";
import { makeStyles } from "@fluentui/react-components";
import temml from "temml";

const useStyles = makeStyles({
  formula: { overflowX: "auto", overflowY: "hidden", padding: "4px 0", fontSize: "1.1em", "& math": { display: "block", textAlign: "left" } },
});

/** LaTeX as MathML, which browsers draw and screen readers read. */
export function Formula({ latex }: { readonly latex: string }): ReactNode {
  const styles = useStyles();
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (place.current === null) return;
    place.current.replaceChildren();
    try {
      temml.render(latex, place.current, { displayMode: true, throwOnError: true });
    } catch {
      place.current.textContent = latex;
    }
  }, [latex]);
  return <div ref={place} className={styles.formula} tabIndex={0} role="group" />;
}
