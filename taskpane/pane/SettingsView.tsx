import { useCallback, useEffect, useMemo, useState, type ReactNode } from "react";
import { Button, Checkbox, Field, Input, makeStyles, Select, tokens } from "@fluentui/react-components";
import { Search16Regular } from "@fluentui/react-icons";
import { SETTINGS } from "../../src/settings/definitions.ts";
import type { SettingDefinition } from "../../src/settings/Settings.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { SettingRow } from "../workbook/WorkbookModel.ts";
import { effectOfSetting, type SettingEffect } from "./effectOfSetting.ts";
import { prettyUnit } from "./format.ts";
import { Modal } from "./Modal.tsx";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { ViewTitle } from "./SectionHead.tsx";
import { settingRule, settingValueFrom } from "./settingValue.ts";
import { UnitsSection } from "./UnitsSection.tsx";
import { words } from "./words.ts";

/** Above this many trials a change is asked first. */
const ASK_ABOVE = 50;

const useStyles = makeStyles({
  quiet: { margin: "0 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  choices: { display: "flex", flexDirection: "column", gap: "2px", marginBottom: "8px" },
  list: { listStyle: "none", margin: 0, padding: 0 },
  item: { padding: "10px 0", borderBottom: `1px solid ${tokens.colorNeutralStroke3}`, contentVisibility: "auto", containIntrinsicSize: "auto 120px" },
  under: { display: "flex", flexWrap: "wrap", gap: "2px 8px", alignItems: "center", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, marginTop: "4px" },
  changed: { fontWeight: tokens.fontWeightSemibold, color: tokens.colorNeutralForeground1 },
  control: { minWidth: 0, width: "100%" },
});

/** The Settings sheet, with what each choice changes and where it comes from. */
export function SettingsView(): ReactNode {
  const styles = useStyles();
  const { host, workbook, perform, showCell } = usePane();
  const [rows, setRows] = useState<ReadonlyMap<string, SettingRow> | undefined>();
  const [problem, setProblem] = useState<string | undefined>();
  const [search, setSearch] = useState("");
  const [onlyChanged, setOnlyChanged] = useState(false);
  const [asked, setAsked] = useState<{ readonly definition: SettingDefinition; readonly value: string | number; readonly effect: SettingEffect } | undefined>();

  const read = useCallback(async () => {
    try {
      const all = await workbook.settingRows();
      setRows(new Map(all.map((row) => [row.id, row])));
      setProblem(undefined);
    } catch (thrown) {
      setProblem(sentenceOf(thrown));
    }
  }, [workbook]);
  useEffect(() => {
    void read();
    return host.onChange(() => void read());
  }, [host, read]);

  const write = useCallback(
    async (definition: SettingDefinition, value: string | number) => {
      await perform(() => workbook.setSetting(definition.id, value), words.settings.set(inLanguage(definition.label)));
      await read();
    },
    [perform, workbook, read],
  );
  const change = useCallback(
    async (definition: SettingDefinition, value: string | number) => {
      try {
        const trials = await workbook.trials();
        if (trials.length > ASK_ABOVE) {
          setAsked({ definition, value, effect: await effectOfSetting(trials, [...(await workbook.settingRows())], definition.id, value) });
          return;
        }
      } catch {
        // The write itself says what is wrong.
      }
      await write(definition, value);
    },
    [workbook, write],
  );

  const wanted = search.trim().toLocaleLowerCase();
  const shown = useMemo(
    () => SETTINGS.filter((setting) => (wanted === "" || `${setting.id} ${inLanguage(setting.label)} ${inLanguage(setting.description)}`.toLocaleLowerCase().includes(wanted)) && (!onlyChanged || rows?.get(setting.id)?.isDefault === false)),
    [wanted, onlyChanged, rows],
  );
  const changed = [...(rows?.values() ?? [])].filter((row) => !row.isDefault).length;

  return (
    <>
      <ViewTitle>{words.settings.title}</ViewTitle>
      <p className={styles.quiet}>{words.settings.intro}</p>
      {problem !== undefined && <p role="alert">{problem}</p>}
      <UnitsSection />
      <h2 style={{ fontSize: tokens.fontSizeBase300, margin: "16px 0 6px" }}>{words.settings.choices}</h2>
      <div className={styles.choices}>
        <Input size="small" type="search" contentBefore={<Search16Regular />} placeholder={words.settings.find} aria-label={words.settings.find} value={search} onChange={(_, data) => setSearch(data.value)} />
        {changed === 0 && !onlyChanged ? (
          <p className={styles.quiet}>{words.settings.allDefault}</p>
        ) : (
          <Checkbox checked={onlyChanged} onChange={(_, data) => setOnlyChanged(data.checked === true)} label={`${words.settings.onlyChanged} (${words.settings.changedCount(changed)})`} />
        )}
      </div>
      {shown.length === 0 && <p>{words.settings.nothingFits}</p>}
      <ul className={styles.list}>
        {rows !== undefined &&
          shown.map((definition) => <SettingItem key={definition.id} definition={definition} row={rows.get(definition.id)} styles={styles} onChange={change} onShow={(row) => row.cell !== undefined && void showCell(row.cell)} />)}
      </ul>
      {asked !== undefined && (
        <Modal
          title={words.settings.many(asked.effect.trials)}
          accept={words.settings.doIt}
          cancel={words.settings.leaveIt}
          onCancel={() => setAsked(undefined)}
          onAccept={() => {
            const { definition, value } = asked;
            setAsked(undefined);
            void write(definition, value);
          }}
        >
          {words.settings.manyMoves(asked.effect.moved, asked.effect.trials)} {asked.effect.withoutError > 0 && words.settings.withoutError(asked.effect.withoutError)}
        </Modal>
      )}
    </>
  );
}

export interface SettingItemProps {
  readonly definition: SettingDefinition;
  readonly row?: SettingRow;
  readonly styles: ReturnType<typeof useStyles>;
  readonly onChange: (definition: SettingDefinition, value: string | number) => Promise<void>;
  readonly onShow: (row: SettingRow) => void;
}

/** A setting with what it means, its source and its control. */
export function SettingItem({ definition, row, styles, onChange, onShow }: SettingItemProps): ReactNode {
  const value = row?.value ?? definition.default;
  const unit = definition.unit === undefined ? "" : prettyUnit(inLanguage(definition.unit));
  const label = inLanguage(definition.label);
  const [problem, setProblem] = useState<string | undefined>();
  const enter = (text: string): void => {
    const read = settingValueFrom(definition, text);
    if (read === undefined) {
      setProblem(words.settings.refused(label, settingRule(definition)));
      return;
    }
    setProblem(undefined);
    if (String(read) !== String(value)) void onChange(definition, read);
  };
  return (
    <li className={styles.item}>
      <Field label={unit === "" ? label : `${label}, ${unit}`} hint={inLanguage(definition.description)} validationState={problem === undefined ? "none" : "error"} validationMessage={problem}>
        {definition.range === undefined ? (
          <Select className={styles.control} size="small" value={String(value)} onChange={(_, data) => enter(data.value)}>
            {definition.options?.map((option) => (
              <option key={option} value={option}>
                {inLanguage(option)}
              </option>
            ))}
          </Select>
        ) : (
          <NumberSetting key={String(value)} definition={definition} value={String(value)} className={styles.control} onEnter={enter} />
        )}
      </Field>
      <div className={styles.under}>
        {row?.isDefault === false && <span className={styles.changed}>{words.settings.changed}</span>}
        <span>{words.settings.default(inLanguage(String(definition.default)))}</span>
        <span>
          {words.settings.source}: {inLanguage(definition.source)}
        </span>
        <span>{definition.tests === undefined ? words.settings.allTests : definition.tests.join(", ")}</span>
        {row?.isDefault === false && (
          <Button size="small" appearance="transparent" onClick={() => void onChange(definition, definition.default)}>
            {words.settings.backToDefault}
          </Button>
        )}
        {row?.cell !== undefined && (
          <Button size="small" appearance="transparent" onClick={() => onShow(row)}>
            {words.settings.showInSheet}
          </Button>
        )}
      </div>
    </li>
  );
}

/** A number, or (where the setting allows both) a number or a word. */
function NumberSetting({ definition, value, className, onEnter, ...field }: { readonly definition: SettingDefinition; readonly value: string; readonly className: string; readonly onEnter: (text: string) => void }): ReactNode {
  const [text, setText] = useState(value);
  const list = `setting-${definition.id}`;
  return (
    <>
      <Input
        {...field} className={className} size="small" autoComplete="off" inputMode={definition.options === undefined ? "decimal" : "text"} list={definition.options === undefined ? undefined : list} value={text}
        onChange={(_, data) => setText(data.value)}
        onBlur={() => onEnter(text)}
        onKeyDown={(key) => key.key === "Enter" && onEnter(text)}
      />
      {definition.options !== undefined && (
        <datalist id={list}>
          {definition.options.map((option) => (
            <option key={option} value={option} />
          ))}
        </datalist>
      )}
    </>
  );
}
