import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { seededRandom } from "../../src/synthetic/seededRandom.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { CellInput } from "../host/SheetHost.ts";
import type { RecordDraft } from "./record.ts";
import type { TrialDraft } from "./WorkbookModel.ts";

/**
 * The demo session: an invented squad on an invented day. No trial is a recording of a person; all traces are computed
 * (`src/synthetic`), and two are spoilt on purpose: a squat jump with a dip, a countermovement jump without a quiet stand. What stands in
 * Record is invented too, and says so among its settings.
 */
export const DEMO_DATE = "2026-03-14";

interface DemoAthlete {
  readonly name: string;
  readonly mass: number;
  readonly stature: number;
  readonly leftShare: number;
  readonly countermovement: { height: number; timeToTakeoff: number; depth: number };
  readonly squat: { height: number };
  readonly drop: { height: number; contactTime: number; drop: number };
}

const ATHLETES: readonly DemoAthlete[] = [
  { name: "Robin Vale", mass: 72.4, stature: 1.78, leftShare: 0.505, countermovement: { height: 0.352, timeToTakeoff: 0.76, depth: 0.33 }, squat: { height: 0.318 }, drop: { height: 0.305, contactTime: 0.205, drop: 0.262 } },
  { name: "Sam Quill", mass: 81.9, stature: 1.86, leftShare: 0.52, countermovement: { height: 0.411, timeToTakeoff: 0.82, depth: 0.36 }, squat: { height: 0.389 }, drop: { height: 0.342, contactTime: 0.232, drop: 0.271 } },
  { name: "Ida Fenn", mass: 63.1, stature: 1.71, leftShare: 0.493, countermovement: { height: 0.297, timeToTakeoff: 0.71, depth: 0.29 }, squat: { height: 0.281 }, drop: { height: 0.268, contactTime: 0.198, drop: 0.255 } },
  { name: "Noa Brook", mass: 68.7, stature: 1.74, leftShare: 0.548, countermovement: { height: 0.325, timeToTakeoff: 0.79, depth: 0.34 }, squat: { height: 0.301 }, drop: { height: 0.281, contactTime: 0.246, drop: 0.259 } },
];

/** Rows of the Athletes table. */
export function demoAthletes(): CellInput[][] {
  const { squad, note } = pageTextsOf().sheets.demo;
  return ATHLETES.map(({ name, mass, stature }) => [name, mass, stature, squad, note]);
}

/** Two people jumped three times in each test, so that errors and limits can be seen; one of them was there on two days before, for the side over sessions. */
const THREE_TIMES = ["Robin Vale", "Ida Fenn"];
const BEFORE = { name: "Robin Vale", dates: ["2026-02-28", "2026-03-07"] } as const;

/** A countermovement, a squat and a drop jump of each athlete, then what a few of them did more. */
export function demoTrials(): TrialDraft[] {
  const first = ATHLETES.flatMap((athlete, index) => threeTests(athlete, index, 0));
  const more = ATHLETES.flatMap((athlete, index) => (THREE_TIMES.includes(athlete.name) ? [1, 2].flatMap((repeat) => threeTests(athlete, index, repeat)) : []));
  const before = ATHLETES.flatMap((athlete, index) => (athlete.name === BEFORE.name ? BEFORE.dates.flatMap((date, day) => [3, 4].map((repeat) => countermovement(athlete, index, repeat + 2 * day, date))) : []));
  return [...first, ...more, ...before];
}

/** Scatter between the trials of one person: what is added to the height, in m. */
const SCATTER = [0, 0.006, -0.004, -0.003, 0.004, -0.006, 0.002] as const;

function threeTests(athlete: DemoAthlete, index: number, repeat: number): TrialDraft[] {
  const dips = athlete.name === "Sam Quill";
  const { squat, drop } = athlete;
  return [
    countermovement(athlete, index, repeat, DEMO_DATE),
    trial(athlete, DEMO_DATE, { test: "SJ", arms: "hips" }, { test: "SJ", ...shared(athlete, repeat), height: squat.height - SCATTER[repeat]!, seed: seedOf(index, repeat) + 2, ...(dips ? { dip: 0.16 } : {}), faults: MEASURED }),
    trial(athlete, DEMO_DATE, { test: "DJ", arms: "hips", dropHeight: 0.3 }, { test: "DJ", ...shared(athlete, repeat), ...drop, height: drop.height + SCATTER[repeat]! / 2, contactTime: drop.contactTime - SCATTER[repeat]!, seed: seedOf(index, repeat) + 3, faults: MEASURED }),
  ];
}

function countermovement(athlete: DemoAthlete, index: number, repeat: number, date: string): TrialDraft {
  const { countermovement: jump } = athlete;
  const noQuietStand = athlete.name === "Noa Brook";
  return trial(athlete, date, { test: "CMJ", arms: "hips" }, {
    test: "CMJ", ...shared(athlete, repeat), ...jump, height: jump.height + SCATTER[repeat]!, seed: seedOf(index, repeat) + 1,
    faults: { ...MEASURED, ...(noQuietStand ? { cutStart: 1.7 } : {}) },
  });
}

const MEASURED = { noise: 0.8, sway: 1.5, quantum: 0.1, offset: [1.5, -0.8] as const };

function shared({ mass, leftShare }: DemoAthlete, repeat: number): { mass: number; leftShare: number; landingLower: number } {
  return { mass, leftShare: leftShare + SCATTER[repeat]! / 2, landingLower: 0.02 };
}

function seedOf(index: number, repeat: number): number {
  return 100 * (index + 1) + 10 * repeat;
}

/** Days that were recorded before the demo session. */
const PAST = ["2026-01-31", "2026-02-07", "2026-02-14", "2026-02-21", "2026-02-28", "2026-03-07"] as const;

/**
 * What was recorded before: invented numbers of two trials a day and test, so that following shows something. One person changed from arm swing
 * to hands on the hips, one has a doubtful trial and one that was left out.
 */
export function demoRecord(): RecordDraft[] {
  const random = seededRandom(20260314);
  return PAST.flatMap((date, day) =>
    ATHLETES.flatMap((athlete, index) => {
      const { name, countermovement: jump, squat, drop } = athlete;
      const trend = 0.0012 * (day - PAST.length) * (index - 1);
      const swings = name === "Sam Quill" && day < 2;
      const dayShift = 0.006 * random.normal();
      return [0, 1].flatMap((repeat): RecordDraft[] => {
        const height = (of: number): number => of + trend + dayShift + 0.006 * random.normal();
        const contact = drop.contactTime + 0.008 * random.normal();
        const [rise, squatRise, rebound] = [height(jump.height) + (swings ? 0.05 : 0), height(squat.height), height(drop.height)];
        const doubtful = name === "Noa Brook" && date === "2026-02-14" && repeat === 1;
        const leftOut = name === "Noa Brook" && date === "2026-02-28" && repeat === 1;
        const made = (protocol: Protocol, metrics: RecordDraft["metrics"]): RecordDraft => ({
          athlete: name, date, protocol: formatProtocol(protocol), use: leftOut ? "leave out" : "keep", verdict: leftOut ? "leave out" : doubtful ? "look" : "keep",
          key: `invented-${protocol.test.toLowerCase()}-${date}-${index}-${repeat}@0.0000`, adjust: "", settingsDigest: "invented", metrics,
        });
        return [
          made({ test: "CMJ", arms: swings ? "swing" : "hips" }, [{ name: "jumpHeight cm", value: 100 * rise }, { name: "rsiModified", value: rise / jump.timeToTakeoff }]),
          made({ test: "SJ", arms: "hips" }, [{ name: "jumpHeight cm", value: 100 * squatRise }]),
          made({ test: "DJ", arms: "hips", dropHeight: 0.3 }, [{ name: "jumpHeight cm", value: 100 * rebound }, { name: "contactTime", value: contact }, { name: "rsi", value: rebound / contact }]),
        ];
      });
    }),
  );
}

function trial(athlete: DemoAthlete, date: string, protocol: Protocol, options: SyntheticOptions): TrialDraft {
  const { trace } = syntheticTrial({ ...options, rate: 1000 });
  return {
    athlete: athlete.name,
    date,
    protocol,
    mass: athlete.mass,
    file: "",
    startInFile: 0,
    hash: `demo-${options.test.toLowerCase()}-${options.seed}`,
    trace,
  };
}
