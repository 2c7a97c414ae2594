import { useState, type ReactNode } from "react";
import { Button, Dialog, DialogActions, DialogBody, DialogContent, DialogSurface, DialogTitle, Field, makeStyles, Textarea } from "@fluentui/react-components";
import { words } from "./words.ts";

const useStyles = makeStyles({
  reasons: { display: "flex", flexWrap: "wrap", gap: "4px", marginTop: "8px" },
  surface: { maxWidth: "min(420px, calc(100vw - 24px))" },
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
    <Dialog open onOpenChange={(_, data) => !data.open && onCancel()}>
      <DialogSurface className={styles.surface} aria-describedby={undefined}>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            finish();
          }}
        >
          <DialogBody>
            <DialogTitle>
              {words.trials.leaveOut}: {name}
            </DialogTitle>
            <DialogContent>
              <Field label={words.trials.reason} hint={words.trials.reasonHint} validationMessage={missing ? words.trials.reasonMissing : undefined} validationState={missing ? "error" : "none"}>
                <Textarea
                  autoFocus rows={2} value={reason} maxLength={200}
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
            </DialogContent>
            <DialogActions>
              <Button appearance="secondary" onClick={onCancel}>
                {words.trials.cancel}
              </Button>
              <Button appearance="primary" type="submit">
                {words.trials.leaveOut}
              </Button>
            </DialogActions>
          </DialogBody>
        </form>
      </DialogSurface>
    </Dialog>
  );
}
