import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { callsOf, recordCall, recordedCells } from "../../../functions/runtime/callRecord.ts";

const record = (result: number) => recordCall({ cell: "Sheet1!A1", name: "METRIC", args: [result], result });

describe("call records in a host that does not say when a calculation begins", () => {
  beforeEach(() => vi.useFakeTimers({ now: 1_000_000 }));
  afterEach(() => vi.useRealTimers());

  test("belong to one calculation while they follow one another, and make way after five seconds of silence", () => {
    record(1);
    vi.advanceTimersByTime(4000);
    record(2);
    expect(callsOf("Sheet1!A1").map(({ result }) => result)).toEqual([1, 2]);
    vi.advanceTimersByTime(6000);
    expect(callsOf("Sheet1!A1")).toHaveLength(2);
    record(3);
    expect(callsOf("Sheet1!A1").map(({ result }) => result)).toEqual([3]);
    expect(recordedCells()).toEqual(["Sheet1!A1"]);
  });
});
