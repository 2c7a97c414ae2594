import fc from "fast-check";
import { expect, test } from "vitest";
import { sumOf } from "../../../src/trace/sumOf.ts";

// By hand: 2 + 3 + 4 + 5 + 6 + 7 = 27; four strands and what is left over after them.
test.each([
  [0, 0, 0],
  [1, 1, 0],
  [1, 2, 2],
  [1, 4, 9],
  [1, 5, 14],
  [1, 7, 27],
  [3, 7, 22],
])("adds the values from %i to before %i", (start, end, sum) => {
  expect(sumOf(Float64Array.of(100, 2, 3, 4, 5, 6, 7, 100), start, end)).toBe(sum);
});

test("of two neighbouring stretches gives that of both, whatever their lengths", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -1000, max: 1000 }), { maxLength: 40 }), fc.nat(), (values, cut) => {
      const all = Float64Array.from(values);
      const at = values.length === 0 ? 0 : cut % (values.length + 1);
      expect(sumOf(all, 0, at) + sumOf(all, at, all.length)).toBe(sumOf(all, 0, all.length));
    }),
  );
});
