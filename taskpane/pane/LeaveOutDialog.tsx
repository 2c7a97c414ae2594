import { useState, type ReactNode } from "react";
import { Button, Field, makeStyles, Textarea } from "@fluentui/react-components";
import { Modal } from "./Modal.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  reasons: { display: "flex", flexWrap: "wrap", gap: "4px", marginTop: "8px" },
});

export interface LeaveOutDialogProps {
  readonly name: string;
  readonly reason: string;
  readonly onLeaveOut: (reason: string) => void;
  readonly onCancel: () => void;
}

/** Asks why a trial is left out; a reason is needed, and is written beside the trial. */
export function LeaveOutDialog({ name, reason: before, onLeaveOut, onCancel }: LeaveOutDialogProps): ReactNode {
  const styles = useStyles();
  const [reason, setReason] = useState(before);
  const [missing, setMissing] = useState(false);
  const finish = (): void => {
    if (reason.trim() === "") setMissing(true);
    else onLeaveOut(reason.trim());
  };
  return (
    <Modal title={`${words.trials.leaveOut}: ${name}`} accept={words.trials.leaveOut} cancel={words.trials.cancel} onAccept={finish} onCancel={onCancel}>
      <Field label={words.trials.reason} hint={words.trials.reasonHint} validationMessage={missing ? words.trials.reasonMissing : undefined} validationState={missing ? "error" : "none"}>
        <Textarea
          textarea={{ "data-first": "" } as object} rows={2} value={reason} maxLength={200}
          onChange={(_, data) => {
            setReason(data.value);
            setMissing(false);
          }}
          onKeyDown={(key) => {
            if (key.key === "Enter" && !key.shiftKey) {
              key.preventDefault();
              finish();
            }
          }}
        />
      </Field>
      <div className={styles.reasons}>
        {words.trials.reasons.map((text) => (
          <Button key={text} size="small" onClick={() => setReason(text)}>
            {text}
          </Button>
        ))}
      </div>
    </Modal>
  );
}
