import { expect, test } from "vitest";
import { headRate, headRows } from "../../../src/read/headRate.ts";

test.each([
  ["DataRate=2000.000000", 2000],
  ["Sampling rate: 1000 Hz", 1000],
  ["Sample Rate (Hz);500", 500],
  ["sampling_frequency,1.2e3", 1200],
  ["Frequenz = 600,5 Hz", 600.5],
  ["recorded at 2 kHz", 2000],
  ["dt=0.001", 1000],
  ["Sample interval: 2 ms", 500],
  ["1000,,,,", 1000],
])("headRate reads %j", (line, rate) => {
  expect(headRate(["Name,Example", line, "Frame,Fz"])).toMatchObject({ rate, line: 2 });
});

test("headRate takes the time range with the number of rows", () => {
  // By hand: 5778 intervals in 2.889 s.
  expect(headRate(["datarows 5779", "range 0.000000 2.889000"])?.rate).toBe(2000);
});

test.each(["Age: 25", "rate: 3", "version=1", "separated 1000", "2031-01-02", "mass 80.5 kg"])("headRate finds no rate in %j", (line) => {
  expect(headRate([line])).toBeUndefined();
});

test("headRows reads the number of rows", () => {
  expect([headRows(["nRows=269"]), headRows(["datarows 12"]), headRows(["x"])]).toEqual([269, 12, undefined]);
});
