import { expect, test } from "vitest";
import { ownMemory, reusedMemory } from "../../../src/trace/memory.ts";

test("columns of one trial do not overlap, and the next trial gets the same memory again", () => {
  const { restart, take } = reusedMemory();
  restart();
  const [a, b] = [take(3), take(4)];
  a.fill(1);
  b.fill(2);
  expect([...a, ...b]).toEqual([1, 1, 1, 2, 2, 2, 2]);
  restart();
  const again = take(5);
  expect(again.buffer).toBe(a.buffer);
  expect([...again]).toEqual([1, 1, 1, 2, 2]);
});

test("a column that does not fit has memory of its own, and so have two askers", () => {
  const { take } = reusedMemory();
  const small = take(10);
  const large = take(1 << 20);
  expect(large).toHaveLength(1 << 20);
  expect(large.buffer).not.toBe(small.buffer);
  expect(reusedMemory().take(10).buffer).not.toBe(small.buffer);
  expect(ownMemory(10).buffer.byteLength).toBe(80);
});
