import type { Protocol } from "../../src/protocols/Protocol.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { CellInput } from "../host/SheetHost.ts";
import type { TrialDraft } from "./WorkbookModel.ts";

/**
 * The demo session: an invented squad on an invented day. No trial is a recording of a person; all traces are computed
 * (`src/synthetic`), and two are spoilt on purpose: a squat jump with a dip, a countermovement jump without a quiet stand.
 */
export const DEMO_DATE = "2026-03-14";
export const DEMO_SQUAD = "Invented demo squad";

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
  return ATHLETES.map(({ name, mass, stature }) => [name, mass, stature, DEMO_SQUAD, "invented"]);
}

/** A dozen trials: a countermovement, a squat and a drop jump of each athlete. */
export function demoTrials(): TrialDraft[] {
  return ATHLETES.flatMap((athlete, index) => {
    const seed = 100 * (index + 1);
    const common = { mass: athlete.mass, leftShare: athlete.leftShare, landingLower: 0.02 };
    const measured = { noise: 0.8, sway: 1.5, quantum: 0.1, offset: [1.5, -0.8] as const };
    const noQuietStand = athlete.name === "Noa Brook";
    const dips = athlete.name === "Sam Quill";
    return [
      trial(athlete, { test: "CMJ", arms: "hips" }, {
        test: "CMJ", ...common, ...athlete.countermovement, seed: seed + 1,
        faults: { ...measured, ...(noQuietStand ? { cutStart: 1.7 } : {}) },
      }),
      trial(athlete, { test: "SJ", arms: "hips" }, { test: "SJ", ...common, ...athlete.squat, seed: seed + 2, ...(dips ? { dip: 0.16 } : {}), faults: measured }),
      trial(athlete, { test: "DJ", arms: "hips", dropHeight: 0.3 }, { test: "DJ", ...common, ...athlete.drop, seed: seed + 3, faults: measured }),
    ];
  });
}

function trial(athlete: DemoAthlete, protocol: Protocol, options: SyntheticOptions): TrialDraft {
  const { trace } = syntheticTrial({ ...options, rate: 1000 });
  return {
    athlete: athlete.name,
    date: DEMO_DATE,
    protocol,
    mass: athlete.mass,
    file: "",
    startInFile: 0,
    hash: `demo-${options.test.toLowerCase()}-${options.seed}`,
    trace,
  };
}
