import { describe, expect, test } from "vitest";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { cautions, resultCautions } from "../../../src/wording/cautions.ts";

describe("cautions", () => {
  test.each(TESTS)("of %s say who should not be tested, when to stop, and who decides", (name) => {
    const text = cautions(name).join(" ");
    expect(text).toMatch(/warmed up/);
    expect(text).toMatch(/[Ss]top at once at pain/);
    expect(text).toMatch(/licensed/);
    expect(text).toMatch(/Minors/);
  });

  test("say that drop jumps and hops come late, and who decides", () => {
    for (const name of ["DJ", "RH"] as const) expect(cautions(name).join(" ")).toMatch(/late task.*decision of the clinician/);
  });

  test("promise no diagnosis and predict nothing", () => {
    const text = [...TESTS.flatMap((name) => cautions(name)), ...resultCautions()].join(" ");
    expect(resultCautions().join(" ")).toMatch(/not a diagnosis/);
    expect(text).not.toMatch(/injury risk|risk of injury|predict/i);
  });
});
