import type { ReactNode } from "react";
import { Button, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import { ArrowUndo16Regular, Checkmark16Regular, Dismiss16Regular, Warning16Regular } from "@fluentui/react-icons";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { Applied } from "../host/SheetHost.ts";
import type { Message } from "./PaneContext.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  strip: { flexShrink: 0, display: "flex", alignItems: "center", gap: "8px", padding: "6px 8px 6px 12px", borderTop: `1px solid ${tokens.colorNeutralStroke1}`, backgroundColor: tokens.colorNeutralBackground3 },
  problem: { backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1 },
  text: { flex: "1 1 auto", minWidth: 0, overflowWrap: "anywhere", fontSize: tokens.fontSizeBase300, lineHeight: tokens.lineHeightBase300 },
  mark: { flexShrink: 0, display: "flex" },
  button: { flexShrink: 0, minWidth: "auto" },
});

/** What just happened, with its undo; read out by screen readers without taking the focus. */
export function MessageStrip({ message, onClose, onUndo }: { readonly message?: Message; readonly onClose: () => void; readonly onUndo: (applied: Applied) => void }): ReactNode {
  const styles = useStyles();
  return (
    <div role="status" aria-live="polite">
      {message !== undefined && (
        <div className={mergeClasses(styles.strip, message.kind === "problem" && styles.problem)}>
          <span className={styles.mark} aria-hidden="true">
            {message.kind === "problem" ? <Warning16Regular /> : <Checkmark16Regular />}
          </span>
          <span className={styles.text}>{message.text}</span>
          {message.applied !== undefined && (
            <Button size="small" className={styles.button} icon={<ArrowUndo16Regular />} title={words.pane.undoing(inLanguage(message.applied.label))} onClick={() => onUndo(message.applied!)}>
              {message.again === true ? words.pane.undoEarlier : words.pane.undo}
            </Button>
          )}
          <Button size="small" appearance="subtle" className={styles.button} icon={<Dismiss16Regular />} aria-label={words.pane.dismiss} onClick={onClose} />
        </div>
      )}
    </div>
  );
}
