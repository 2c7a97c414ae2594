import { useState, type ReactNode } from "react";
import { Button, ProgressBar } from "@fluentui/react-components";
import { CautionList } from "../CautionList.tsx";
import { usePane } from "../PaneContext.tsx";
import { ViewTitle } from "../SectionHead.tsx";
import { words } from "../words.ts";
import { CombinePart } from "./CombinePart.tsx";
import { FollowPart } from "./FollowPart.tsx";
import { Choice, useDecideStyles } from "./parts.tsx";
import { ProfilesPart } from "./ProfilesPart.tsx";
import { ReportPart } from "./ReportPart.tsx";
import { SidesPart } from "./SidesPart.tsx";
import { SquadPart } from "./SquadPart.tsx";
import { useDecide } from "./useDecide.ts";

const PARTS = { follow: FollowPart, combine: CombinePart, sides: SidesPart, squad: SquadPart, profiles: ProfilesPart, report: ReportPart } as const;
type Part = keyof typeof PARTS;

/** From trials to decisions: one choice of what to look at, with what a result may and may not say below it. */
export function DecideView(): ReactNode {
  const styles = useDecideStyles();
  const { go } = usePane();
  const { data, problem } = useDecide();
  const [part, setPart] = useState<Part>("combine");
  const Shown = PARTS[part];
  return (
    <>
      <ViewTitle>{words.decide.title}</ViewTitle>
      <div className={styles.choices}>
        <Choice label={words.decide.what} value={part} options={(Object.keys(PARTS) as Part[]).map((each) => [each, words.decide.parts[each]])} onChange={(each) => setPart(each as Part)} />
      </div>
      {problem !== undefined && <p role="alert">{problem}</p>}
      {data === undefined && problem === undefined && <ProgressBar aria-label={words.pane.loading} />}
      {data !== undefined && data.live.length === 0 && data.recorded.length === 0 ? (
        <>
          <p>{words.decide.noTrials}</p>
          <Button appearance="primary" onClick={() => go("bringIn")}>
            {words.trials.bringIn}
          </Button>
        </>
      ) : (
        data !== undefined && (
          <>
            <Shown data={data} />
            <CautionList withResults />
          </>
        )
      )}
    </>
  );
}
