import { TESTS, type Protocol, type Test } from "../../src/protocols/Protocol.ts";
import { InputError } from "../../src/errors.ts";
import type { CellInput, CellValue, Edit, SheetHost, TableInfo } from "../host/SheetHost.ts";
import { dateSerial, isoDate, cellText as text } from "./addresses.ts";
import { tableOf } from "./findParts.ts";
import type { PlannedTrial } from "./WorkbookModel.ts";

const TABLE = "Plan";
/** Columns of the Plan table: what a running sheet says, line by line. */
export const PLAN_COLUMNS = ["date", "order", "athlete", "test", "arms", "limb", "drop height", "load", "trial", "of", "rest s"] as const;

/** Who goes next: each person through all tests, all people through one test, or all people one trial at a time. */
export const PLAN_ORDERS = ["person", "test", "trial"] as const;
export type PlanOrder = (typeof PLAN_ORDERS)[number];

/** Most trials of one plan: a long day for several plates. */
export const MOST_PLANNED = 2000;

/** One test of a session and how it is done. */
export interface PlannedTest {
  readonly test: Test;
  readonly arms?: "hips" | "swing";
  /** `each`: each leg alone; the leg that begins changes from person to person. */
  readonly limb?: "both" | "left" | "right" | "each";
  /** Drop heights, m, in any order: the plan goes from low to high. */
  readonly dropHeights?: readonly number[];
  /** External loads, kg, in any order: the plan goes from light to heavy. */
  readonly loads?: readonly number[];
  /** Trials of each protocol. */
  readonly trials: number;
  /** Rest between two trials of one person, s. */
  readonly rest: number;
}

/** What a person asks of a plan. */
export interface PlanRequest {
  /** ISO date. */
  readonly date: string;
  readonly athletes: readonly { readonly name: string; readonly mass?: number }[];
  readonly tests: readonly PlannedTest[];
  readonly order: PlanOrder;
}

/** One trial of a plan. */
export interface PlanStep extends PlannedTrial {
  /** Number of this trial among those of the same person and protocol, from one. */
  readonly trial: number;
  readonly of: number;
  /** Rest before the next trial of this person, s. */
  readonly rest: number;
}

/**
 * The order of a testing day: one step a trial.
 *
 * Tests keep their order; boxes go from low to high and loads from light to heavy, whoever jumps. Where each leg is tested, every second person begins with the right.
 *
 * @throws {InputError} `wrong-shape` without a name or a test, or for a name that stands twice; `out-of-range` for a number that cannot be.
 */
export function planSteps({ date, athletes, tests, order }: PlanRequest): readonly PlanStep[] {
  checkRequest(athletes, tests);
  const people = athletes.map((athlete, place) => ({ ...athlete, place }));
  const levels = tests.flatMap((planned) => levelsOf(planned).map((level) => ({ planned, level })));
  const step = (person: (typeof people)[number], { planned, level }: (typeof levels)[number], limb: Protocol["limb"], trial: number): PlanStep => ({
    athlete: person.name,
    date,
    ...(person.mass === undefined ? {} : { mass: person.mass }),
    protocol: { test: planned.test, ...(planned.arms === undefined || planned.test === "IMTP" ? {} : { arms: planned.arms }), ...(limb === undefined ? {} : { limb }), ...level },
    trial: trial + 1,
    of: planned.trials,
    rest: planned.rest,
  });
  const upTo = (count: number): readonly number[] => Array.from({ length: count }, (_, index) => index);
  const ofPerson = (person: (typeof people)[number], each: (typeof levels)[number]): PlanStep[] => limbsOf(each.planned, person.place).flatMap((limb) => upTo(each.planned.trials).map((trial) => step(person, each, limb, trial)));
  switch (order) {
    case "person":
      return people.flatMap((person) => levels.flatMap((each) => ofPerson(person, each)));
    case "test":
      return levels.flatMap((each) => people.flatMap((person) => ofPerson(person, each)));
    case "trial":
      return levels.flatMap((each) =>
        limbsOf(each.planned, 0).flatMap((_, turn) => upTo(each.planned.trials).flatMap((trial) => people.map((person) => step(person, each, limbsOf(each.planned, person.place)[turn], trial)))),
      );
  }
}

/** Edits that write the steps to the Plan table, below what it holds. */
export async function planEdits(host: SheetHost, steps: readonly PlanStep[]): Promise<Edit[]> {
  const table = await planTable(host);
  const before = await lastOrders(host, table);
  const count = new Map<string, number>();
  const lines = steps.map((step) => {
    const order = (count.get(step.date) ?? before.get(step.date) ?? 0) + 1;
    count.set(step.date, order);
    return cellsOf(step, order);
  });
  if (table !== undefined) {
    return [
      { kind: "appendRows", table: table.name, rows: lines.map((cells) => table.columns.map((name) => cells[(PLAN_COLUMNS as readonly string[]).indexOf(name)] ?? null)) },
      dateFormat(table.range.sheet, table.range.column + table.columns.indexOf("date"), table.range.row + table.range.rows, lines.length),
    ];
  }
  if ((await host.sheets()).some((sheet) => sheet.toLowerCase() === TABLE.toLowerCase())) {
    throw new Error(`a sheet named ${TABLE} exists but is not the one Leapsheet writes to; rename it, then try again`);
  }
  return [
    { kind: "addSheet", sheet: TABLE, rows: Math.max(200, lines.length + 100), columns: PLAN_COLUMNS.length + 4 },
    { kind: "table", name: TABLE, sheet: TABLE, row: 0, column: 0, columns: [...PLAN_COLUMNS], rows: lines },
    { kind: "freezeRows", sheet: TABLE, rows: 1 },
    { kind: "columns", sheet: TABLE, column: PLAN_COLUMNS.indexOf("athlete"), count: 1, width: 160 },
    dateFormat(TABLE, PLAN_COLUMNS.indexOf("date"), 1, lines.length),
  ];
}

/** The steps of the Plan table, day by day in their order; lines that a person spoilt are left out. */
export async function plannedSteps(host: SheetHost): Promise<readonly PlanStep[]> {
  const table = await planTable(host);
  if (table === undefined || table.range.rows < 2) return [];
  const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: table.range.rows - 1 }]);
  const at = (name: (typeof PLAN_COLUMNS)[number]): number => table.columns.indexOf(name);
  return content.values
    .flatMap((cells): { order: number; step: PlanStep }[] => {
      const athlete = text(cells[at("athlete")]).trim();
      const protocol = protocolFrom(text(cells[at("test")]), text(cells[at("arms")]), text(cells[at("limb")]), cells[at("drop height")], cells[at("load")]);
      if (athlete === "" || protocol === undefined) return [];
      const number = (name: (typeof PLAN_COLUMNS)[number]): number => positive(cells[at(name)]) ?? 0;
      return [{ order: number("order"), step: { athlete, date: isoDate(cells[at("date")]), protocol, trial: number("trial"), of: number("of"), rest: number("rest s") } }];
    })
    .sort((a, b) => (a.step.date === b.step.date ? a.order - b.order : a.step.date < b.step.date ? -1 : 1))
    .map(({ step }) => step);
}

/** A protocol from the cells of a row; `undefined` where no test is named. What cannot be read counts as not stated. */
export function protocolFrom(test: string, arms: string, limb: string, dropHeight: CellValue | undefined, load: CellValue | undefined): Protocol | undefined {
  const named = TESTS.find((candidate) => candidate === test.trim().toUpperCase());
  if (named === undefined) return undefined;
  const [a, l] = [arms.trim().toLowerCase(), limb.trim().toLowerCase()];
  const [height, kilograms] = [positive(dropHeight), positive(load)];
  return {
    test: named,
    ...(a === "hips" || a === "swing" ? { arms: a } : {}),
    ...(l === "both" || l === "left" || l === "right" ? { limb: l } : {}),
    ...(height === undefined ? {} : { dropHeight: height }),
    ...(kilograms === undefined ? {} : { load: kilograms }),
  };
}

function checkRequest(athletes: PlanRequest["athletes"], tests: readonly PlannedTest[]): void {
  if (athletes.length === 0 || athletes.some(({ name }) => name.trim() === "")) throw new InputError("wrong-shape", "a plan requires the name or code of each athlete");
  const names = athletes.map(({ name }) => name.trim().toLowerCase());
  const twice = athletes.find((_, index) => names.indexOf(names[index]) !== index);
  if (twice !== undefined) throw new InputError("wrong-shape", `a plan requires each athlete once: “${twice.name}” stands twice`);
  if (tests.length === 0) throw new InputError("wrong-shape", "a plan requires a test");
  for (const { test, trials, rest, dropHeights = [], loads = [] } of tests) {
    if (!Number.isInteger(trials) || trials < 1 || trials > 20) throw new InputError("out-of-range", "a plan requires 1 to 20 trials of each protocol");
    if (!(rest >= 0 && rest <= 3600)) throw new InputError("out-of-range", "a plan requires rests of 0 to 3600 s");
    if (dropHeights.some((height) => !(height > 0 && height <= 1.5))) throw new InputError("out-of-range", "a plan requires drop heights above 0 and up to 1.5 m");
    if (test === "DJ" && dropHeights.length === 0) throw new InputError("out-of-range", "a plan of drop jumps requires a drop height");
    if (loads.some((load) => !(load >= 0 && load <= 500))) throw new InputError("out-of-range", "a plan requires loads of 0 to 500 kg");
  }
  const all = athletes.length * tests.reduce((sum, planned) => sum + levelsOf(planned).length * limbsOf(planned, 0).length * planned.trials, 0);
  if (all > MOST_PLANNED) throw new InputError("out-of-range", `a plan requires at most ${MOST_PLANNED} trials: this one has ${all}`);
}

/** Heights low to high, and loads light to heavy, that one test is done at. */
function levelsOf({ test, dropHeights = [], loads = [] }: PlannedTest): readonly Pick<Protocol, "dropHeight" | "load">[] {
  const rising = (values: readonly number[]): (number | undefined)[] => (values.length === 0 ? [undefined] : [...new Set(values)].sort((a, b) => a - b));
  return rising(test === "DJ" ? dropHeights : []).flatMap((dropHeight) =>
    rising(loads).map((load) => ({ ...(dropHeight === undefined ? {} : { dropHeight }), ...(load === undefined || load === 0 ? {} : { load }) })),
  );
}

function limbsOf({ limb }: PlannedTest, place: number): readonly Protocol["limb"][] {
  if (limb !== "each") return [limb];
  return place % 2 === 0 ? ["left", "right"] : ["right", "left"];
}

async function planTable(host: SheetHost): Promise<TableInfo | undefined> {
  const table = tableOf(await host.tables(), TABLE, PLAN_COLUMNS);
  const columns = table?.columns.map((column) => column.trim().toLowerCase());
  const missing = columns && PLAN_COLUMNS.find((column) => !columns.includes(column));
  if (missing) throw new Error(`the Plan table has no column named "${missing}"; give the column its name back, then try again`);
  return table && { ...table, columns: columns! };
}

/** The last number of each day that is planned already. */
async function lastOrders(host: SheetHost, table: TableInfo | undefined): Promise<ReadonlyMap<string, number>> {
  const last = new Map<string, number>();
  if (table === undefined || table.range.rows < 2) return last;
  const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: table.range.rows - 1 }]);
  for (const cells of content.values) {
    const date = isoDate(cells[table.columns.indexOf("date")]);
    last.set(date, Math.max(last.get(date) ?? 0, positive(cells[table.columns.indexOf("order")]) ?? 0));
  }
  return last;
}

function cellsOf({ athlete, date, protocol, trial, of, rest }: PlanStep, order: number): CellInput[] {
  return [dateSerial(date), order, athlete, protocol.test, protocol.arms ?? "", protocol.limb ?? "", protocol.dropHeight ?? "", protocol.load ?? "", trial, of, rest];
}

function dateFormat(sheet: string, column: number, row: number, rows: number): Edit {
  return { kind: "format", range: { sheet, row, column, rows, columns: 1 }, numberFormat: "yyyy-mm-dd" };
}

function positive(value: CellValue | undefined): number | undefined {
  return typeof value === "number" && value > 0 ? value : undefined;
}
