import { useId, useLayoutEffect, useRef, type FormEvent, type ReactNode } from "react";
import { Button, makeStyles, tokens } from "@fluentui/react-components";

const useStyles = makeStyles({
  modal: {
    width: "min(420px, calc(100vw - 24px))", maxHeight: "calc(100vh - 24px)", boxSizing: "border-box", padding: "16px", overflowY: "auto", fontFamily: "inherit", fontSize: "inherit",
    border: `1px solid ${tokens.colorNeutralStroke1}`, borderRadius: tokens.borderRadiusLarge, backgroundColor: tokens.colorNeutralBackground1, color: tokens.colorNeutralForeground1, boxShadow: tokens.shadow16,
    "::backdrop": { backgroundColor: "rgba(0, 0, 0, 0.4)" },
  },
  title: { margin: "0 0 12px", fontSize: tokens.fontSizeBase400, lineHeight: tokens.lineHeightBase400, overflowWrap: "anywhere" },
  actions: { display: "flex", justifyContent: "flex-end", flexWrap: "wrap", gap: "8px", marginTop: "16px" },
});

export interface ModalProps {
  readonly title: string;
  readonly accept: string;
  readonly cancel: string;
  readonly onAccept: () => void;
  readonly onCancel: () => void;
  readonly children: ReactNode;
}

/** A question that has to be answered first: the browser's own dialog keeps the focus inside and gives it back afterwards. */
export function Modal({ title, accept, cancel, onAccept, onCancel, children }: ModalProps): ReactNode {
  const styles = useStyles();
  const id = useId();
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    const shown = dialog.current;
    const before = document.activeElement;
    if (shown === null) return undefined;
    shown.showModal();
    shown.querySelector<HTMLElement>("[data-first]")?.focus();
    return () => {
      shown.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog} className={styles.modal} aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onCancel();
      }}
      onKeyDown={(key) => key.stopPropagation()}
    >
      <form
        onSubmit={(event: FormEvent) => {
          event.preventDefault();
          onAccept();
        }}
      >
        <h2 id={id} className={styles.title}>
          {title}
        </h2>
        {children}
        <div className={styles.actions}>
          <Button onClick={onCancel}>{cancel}</Button>
          <Button appearance="primary" type="submit">
            {accept}
          </Button>
        </div>
      </form>
    </dialog>
  );
}
