import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { likeProtocols } from "../../../src/protocols/likeProtocols.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import type { Protocol } from "../../../src/protocols/Protocol.ts";
import { instrumentOf, instrumentReason, INSTRUMENTS, likeText, partsOfLikeText } from "../../../src/sessions/likeText.ts";

const protocols: fc.Arbitrary<Protocol> = fc.record(
  { test: fc.constantFrom("CMJ", "SJ"), arms: fc.constantFrom("hips", "swing"), limb: fc.constantFrom("both", "left", "right"), load: fc.constantFrom(0, 20) },
  { requiredKeys: ["test"] },
);

describe("likeText", () => {
  // Law: texts are equal exactly where the protocols are alike and the instrument is one.
  test("is equal for like protocols of one instrument, and for no others", () => {
    fc.assert(
      fc.property(protocols, protocols, fc.constantFrom(...INSTRUMENTS), fc.constantFrom(...INSTRUMENTS), (a, b, by, other) => {
        expect(likeText(a, by) === likeText(b, other)).toBe(likeProtocols(a, b) === undefined && by === other);
      }),
    );
  });
  test("can be taken apart again", () => {
    fc.assert(
      fc.property(protocols, fc.constantFrom(...INSTRUMENTS), (protocol, by) => {
        const parts = partsOfLikeText(likeText(protocol, by));
        expect(parts.instrument).toBe(by);
        expect(likeProtocols(parseProtocol(parts.protocol), protocol)).toBeUndefined();
      }),
    );
  });
});

describe("instrumentOf", () => {
  test.each([
    ["LEAP1 rate=1000", "plate"],
    ["LEAPT1 flight=0.512 contact=0.210 source=mat", "mat"],
    ["LEAPT1 flight=0.5 source=video framesPerSecond=240", "video"],
    ["", "plate"],
  ] as const)("of %j is %s", (packed, by) => {
    expect(instrumentOf(packed)).toBe(by);
  });
});

describe("instrumentReason", () => {
  test("is silent about one instrument and names two", () => {
    expect(instrumentReason(["mat", "mat"])).toBeUndefined();
    expect(instrumentReason(["mat", "plate"])).toContain("force plate and mat");
  });
});
