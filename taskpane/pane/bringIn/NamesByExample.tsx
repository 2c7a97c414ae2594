import { useState, type ReactNode } from "react";
import { Button, Field, Input, makeStyles, tokens } from "@fluentui/react-components";
import { patternByExample, type NameParts } from "../../../src/read/namePattern.ts";
import { sentenceOf } from "../PaneContext.tsx";
import { formatDate } from "../format.ts";
import { words } from "../words.ts";
import type { IncomingFile } from "./IncomingFile.ts";
import { namesByPattern } from "./namesByPattern.ts";

const useStyles = makeStyles({
  grid: { display: "grid", gridTemplateColumns: "1fr 1fr", gap: "6px 8px", alignItems: "start", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input": { minWidth: 0, width: "100%" } },
  example: { margin: "6px 0", fontFamily: tokens.fontFamilyMonospace, fontSize: tokens.fontSizeBase200, overflowWrap: "anywhere" },
  quiet: { margin: "6px 0", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, overflowWrap: "anywhere" },
});

/** A pattern for file names built from one example: the person says what stands in this name, and sees what the others give. */
export function NamesByExample({ files, onApply }: { readonly files: readonly IncomingFile[]; readonly onApply: (pattern: string) => void }): ReactNode {
  const styles = useStyles();
  const example = files[0].path;
  const [parts, setParts] = useState<Record<"athlete" | "test" | "date", string>>({ athlete: "", test: "", date: "" });
  const [pattern, setPattern] = useState("");
  const [problem, setProblem] = useState<string | undefined>();
  const type = (field: keyof typeof parts, text: string): void => {
    const next = { ...parts, [field]: text };
    setParts(next);
    const given: NameParts = Object.fromEntries(Object.entries(next).filter(([, value]) => value.trim() !== ""));
    if (Object.keys(given).length === 0) return;
    try {
      setPattern(patternByExample(example, given));
      setProblem(undefined);
    } catch (thrown) {
      setProblem(sentenceOf(thrown));
    }
  };
  const readings = pattern === "" ? [] : files.map((incoming) => reading(pattern, incoming.path));
  const fits = readings.filter((found) => found !== undefined).length;
  return (
    <details>
      <summary>{words.bringIn.names}</summary>
      <p className={styles.quiet}>{words.bringIn.namesHint}</p>
      <p className={styles.example}>{example}</p>
      <div className={styles.grid}>
        {(["athlete", "test", "date"] as const).map((field) => (
          <Field key={field} label={words.bringIn.namePart[field]} size="small">
            <Input size="small" value={parts[field]} onChange={(_, data) => type(field, data.value)} />
          </Field>
        ))}
        <Field label={words.bringIn.pattern} size="small" validationState={problem === undefined ? "none" : "error"} validationMessage={problem} style={{ gridColumn: "1 / -1" }}>
          <Input size="small" value={pattern} onChange={(_, data) => setPattern(data.value)} />
        </Field>
      </div>
      {pattern !== "" && (
        <>
          <p className={styles.quiet}>
            {words.bringIn.fits(fits, files.length)}
            {readings.slice(0, 4).map((found, place) => (
              <span key={files[place].id} style={{ display: "block" }}>
                {files[place].path}: {found === undefined ? words.bringIn.doesNotFit : [found.athlete, found.test, found.date === undefined ? undefined : formatDate(found.date)].filter((part) => part !== undefined).join(", ")}
              </span>
            ))}
          </p>
          <Button size="small" disabledFocusable={fits === 0} onClick={() => onApply(pattern)}>
            {words.bringIn.applyNames(fits)}
          </Button>
        </>
      )}
    </details>
  );
}

function reading(pattern: string, path: string): ReturnType<typeof namesByPattern> {
  try {
    return namesByPattern(pattern, path);
  } catch {
    return undefined;
  }
}
