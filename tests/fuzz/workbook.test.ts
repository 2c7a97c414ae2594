import { expect, test } from "vitest";
import { InputError } from "../../src/errors.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { workbookDataFrom } from "../../taskpane/host/embedded/workbookDataFrom.ts";
import { FUNCTIONS, SESSION } from "../src/workbook/workbooks.ts";
import { seededRandom } from "../support/seededRandom.ts";
import { mutate } from "./mutate.ts";
import { storedZip, unzip } from "./storedZip.ts";

/** As in `readers.test.ts`: `LEAPSHEET_FUZZ` and `LEAPSHEET_FUZZ_SEED` make a longer run and another one. */
const INPUTS = Math.ceil(0.02 * Number(process.env.LEAPSHEET_FUZZ ?? 20_000));
const SEED = Number(process.env.LEAPSHEET_FUZZ_SEED ?? 1);
const LIMIT_MS = 2000;

test("a damaged workbook gives a workbook that can be shown and saved again, or a sentence", { timeout: 60_000 + INPUTS * 200 }, async () => {
  const random = seededRandom(SEED + 6);
  const whole = unzip(await writeWorkbook(SESSION, { formulas: "live", functions: FUNCTIONS }));
  const names = [...whole.keys()];
  const corpus = [...whole.values()];
  const before = process.memoryUsage().rss;
  let [opened, refused, slowest] = [0, 0, 0];
  for (let n = 0; n < INPUTS; n++) {
    const parts = new Map(whole);
    const name = names[Math.floor(random() * names.length)];
    parts.set(name, mutate(whole.get(name)!, corpus, random));
    const file = storedZip(parts);
    const bytes = random() < 0.1 ? mutate(file, corpus, random) : file;
    const started = process.cpuUsage();
    try {
      const workbook = await readWorkbook(bytes, FUNCTIONS);
      JSON.stringify(workbookDataFrom(workbook));
      await writeWorkbook(workbook, { formulas: "live", functions: FUNCTIONS });
      opened++;
    } catch (error) {
      if (!(error instanceof InputError)) throw new Error(`input ${n} of seed ${SEED}: part ${name}`, { cause: error });
      refused++;
    }
    const { user, system } = process.cpuUsage(started);
    slowest = Math.max(slowest, (user + system) / 1000);
  }
  if (INPUTS > 400) console.log(`${INPUTS} inputs, ${opened} opened, ${refused} refused, the slowest ${slowest.toFixed(0)} ms`);
  expect(opened).toBeGreaterThan(0);
  expect(refused).toBeGreaterThan(0);
  expect(slowest).toBeLessThan(LIMIT_MS);
  expect(process.memoryUsage().rss - before).toBeLessThan(500 * 2 ** 20);
  expect(Object.keys(Object.prototype)).toEqual([]);
});
