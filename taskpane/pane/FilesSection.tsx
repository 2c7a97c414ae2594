import { useEffect, useRef, useState, type ReactNode } from "react";
import { Button, makeStyles, Spinner, tokens } from "@fluentui/react-components";
import type { WorkbookFiles } from "../workbook/workbookFiles.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { listStyle: "none", margin: 0, padding: 0, display: "flex", flexDirection: "column", gap: "10px" },
  quiet: { margin: "2px 0 0", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
});

/** Saving the workbook as a file and opening one, where the page does that itself. */
export function FilesSection(): ReactNode {
  const styles = useStyles();
  const { files, say } = usePane();
  const chooser = useRef<HTMLInputElement>(null);
  const keyChooser = useRef<HTMLInputElement>(null);
  const [working, setWorking] = useState(false);
  const [former, setFormer] = useState<Awaited<ReturnType<WorkbookFiles["former"]>>>();
  useEffect(() => void files?.former().then(setFormer, () => undefined), [files]);
  if (files === undefined) return null;

  const run = async (action: () => Promise<void>, done?: string): Promise<void> => {
    setWorking(true);
    try {
      await action();
      if (done !== undefined) say({ kind: "done", text: done });
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
    setWorking(false);
  };
  const chosen = (file: File | undefined): void => {
    if (chooser.current) chooser.current.value = "";
    // Where the workbook is replaced the page begins anew; where the person thought better of it there is nothing to say.
    if (file) void run(() => files.open(file));
  };

  const keyChosen = (file: File | undefined): void => {
    if (keyChooser.current) keyChooser.current.value = "";
    if (file) void run(() => files.nameAgain(file));
  };
  const saveCoded = async (): Promise<void> => {
    const { people, left } = await files.saveCoded();
    say(left.length === 0 ? { kind: "done", text: words.files.codedSaved(people) } : { kind: "problem", text: words.files.codedLeft(people, left) });
  };

  return (
    <Section heading={words.files.title}>
      <ul className={styles.list}>
        <li>
          <Button size="small" disabledFocusable={working} onClick={() => void run(() => files.save("values"), words.files.saved)}>
            {words.files.values}
          </Button>
          <p className={styles.quiet}>{words.files.valuesHint}</p>
        </li>
        <li>
          <Button size="small" disabledFocusable={working} onClick={() => void run(() => files.save("live"), words.files.saved)}>
            {words.files.live}
          </Button>
          <p className={styles.quiet}>{words.files.liveHint}</p>
        </li>
        <li>
          <Button size="small" disabledFocusable={working} onClick={() => chooser.current?.click()}>
            {words.files.open}
          </Button>
          <input ref={chooser} type="file" hidden accept=".xlsx" aria-label={words.files.open} onChange={(event) => chosen(event.target.files?.[0])} />
          <p className={styles.quiet}>{words.files.openHint}</p>
        </li>
        {former !== undefined && (
          <li>
            <Button size="small" disabledFocusable={working} onClick={() => void run(files.putBack)}>
              {former.label}
            </Button>
            <p className={styles.quiet}>{former.text}</p>
          </li>
        )}
        <li>
          <Button size="small" disabledFocusable={working} onClick={() => void run(saveCoded)}>
            {words.files.coded}
          </Button>
          <p className={styles.quiet}>{words.files.codedHint}</p>
        </li>
        <li>
          <Button size="small" disabledFocusable={working} onClick={() => keyChooser.current?.click()}>
            {words.files.key}
          </Button>
          <input ref={keyChooser} type="file" hidden accept=".json" aria-label={words.files.key} onChange={(event) => keyChosen(event.target.files?.[0])} />
          <p className={styles.quiet}>{words.files.keyHint}</p>
        </li>
      </ul>
      <p className={styles.quiet}>{words.files.names}</p>
      {working && <Spinner size="tiny" label={words.pane.working} />}
    </Section>
  );
}
