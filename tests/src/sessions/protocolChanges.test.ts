import { describe, expect, test } from "vitest";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { protocolChanges } from "../../../src/sessions/protocolChanges.ts";

describe("protocolChanges", () => {
  test("marks each place where the protocol is unlike the one before", () => {
    const protocols = ["CMJ", "CMJ limb=both", "CMJ arms=hips", "CMJ arms=hips", "DJ drop=0.30 arms=hips"].map(parseProtocol);
    const changes = protocolChanges(protocols);
    expect(changes.map((change) => change.at)).toEqual([2, 4]);
    expect(changes[0].reason).toMatch(/arms/);
  });

  test("finds none in an empty or steady history", () => {
    expect(protocolChanges([])).toEqual([]);
    expect(protocolChanges([parseProtocol("SJ"), parseProtocol("SJ")])).toEqual([]);
  });
});
