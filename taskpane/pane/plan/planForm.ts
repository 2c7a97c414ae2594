import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { InputError } from "../../../src/errors.ts";
import type { PlannedTest, PlanOrder, PlanRequest } from "../../workbook/plan.ts";
import { words } from "../words.ts";

/** One test as it is typed. */
export interface TestForm {
  /** Tells one from another while they are moved. */
  readonly id: number;
  readonly test: Test;
  readonly arms: "" | "hips" | "swing";
  readonly limb: "" | "both" | "left" | "right" | "each";
  readonly dropHeights: string;
  readonly loads: string;
  readonly trials: string;
  readonly rest: string;
}

/** A plan as it is typed. */
export interface PlanForm {
  readonly names: string;
  /** ISO date. */
  readonly date: string;
  readonly order: PlanOrder;
  readonly tests: readonly TestForm[];
}

/** Trials and rests that a form begins with. Common practice; the person's own come first. */
const USUAL: Readonly<Record<Test, Pick<TestForm, "arms" | "dropHeights" | "trials" | "rest">>> = {
  CMJ: { arms: "hips", dropHeights: "", trials: "3", rest: "60" },
  SJ: { arms: "hips", dropHeights: "", trials: "3", rest: "60" },
  DJ: { arms: "hips", dropHeights: "0.20 0.30", trials: "3", rest: "90" },
  RH: { arms: "hips", dropHeights: "", trials: "2", rest: "120" },
  IMTP: { arms: "", dropHeights: "", trials: "3", rest: "120" },
};

/** The form of a test with its usual number of trials and rest; what does not depend on the test is kept. */
export function testForm(id: number, test: Test, before?: TestForm): TestForm {
  return { id, limb: before?.limb ?? "", loads: before?.loads ?? "", ...USUAL[test], test };
}

/** A form with the next test that it does not have yet. */
export function withNextTest(form: PlanForm): PlanForm {
  const next = TESTS.find((test) => form.tests.every((each) => each.test !== test)) ?? "CMJ";
  return { ...form, tests: [...form.tests, testForm(1 + form.tests.reduce((most, { id }) => Math.max(most, id), 0), next)] };
}

/** Names of a list, one a line; a list that came from a sheet may hold tabs, and only its first column is names. */
export function namesOf(text: string): readonly string[] {
  return text
    .split(/[\r\n;]+/)
    .map((line) => line.split("\t")[0].trim().replace(/\s+/g, " "))
    .filter((name) => name !== "");
}

/**
 * What the form asks for.
 *
 * @param masses Body mass by name, kg, where the sheet knows it.
 * @throws {InputError} `not-a-number` where numbers are expected.
 */
export function planRequest(form: PlanForm, masses: ReadonlyMap<string, number> = new Map()): PlanRequest {
  return {
    date: form.date,
    order: form.order,
    athletes: namesOf(form.names).map((name) => ({ name, ...(masses.get(name) === undefined ? {} : { mass: masses.get(name) }) })),
    tests: form.tests.map(plannedTest),
  };
}

function plannedTest({ test, arms, limb, dropHeights, loads, trials, rest }: TestForm): PlannedTest {
  const [heights, kilograms] = [numbersOf(test === "DJ" ? dropHeights : "", words.plan.dropHeights), numbersOf(loads, words.plan.loads)];
  return {
    test,
    ...(arms === "" || test === "IMTP" ? {} : { arms }),
    ...(limb === "" ? {} : { limb }),
    ...(heights.length === 0 ? {} : { dropHeights: heights }),
    ...(kilograms.length === 0 ? {} : { loads: kilograms }),
    trials: numberOf(trials, words.plan.trials),
    rest: numberOf(rest, words.plan.rest),
  };
}

/** Numbers with spaces between, each with a decimal point or comma. */
function numbersOf(text: string, label: string): readonly number[] {
  const values = text.trim() === "" ? [] : text.trim().split(/[\s;]+/).map((part) => Number(part.replace(/,$/, "").replace(",", ".")));
  if (!values.every(Number.isFinite)) throw new InputError("not-a-number", words.plan.numbers(label));
  return values;
}

function numberOf(text: string, label: string): number {
  const value = text.trim() === "" ? NaN : Number(text.trim().replace(",", "."));
  if (!Number.isFinite(value)) throw new InputError("not-a-number", words.bringIn.notNumber(label));
  return value;
}
