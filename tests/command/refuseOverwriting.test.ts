import { linkSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { refuseOverwriting } from "../../command/refuseOverwriting.ts";

describe("refuseOverwriting", () => {
  let folder = "";
  const at = (name: string): string => join(folder, name);
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "leapsheet-"));
    writeFileSync(at("a.csv"), "1");
    writeFileSync(at("b.csv"), "2");
    symlinkSync(at("a.csv"), at("link.csv"));
    linkSync(at("b.csv"), at("second name.csv"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test.each(["a.csv", "./../" /* the folder's own name follows */, "link.csv"])("refuses a recording under another of its names: %s", (name) => {
    const out = name.endsWith("/") ? join(folder, name, folder.split("/").at(-1)!, "a.csv") : at(name);
    expect(() => refuseOverwriting([at("b.csv"), at("a.csv")], [out, undefined])).toThrow(/requires a file that is not one of the recordings, and .*a\.csv is; nothing was written/);
  });

  test("refuses samples over a recording, by a second name of the same file", () => {
    expect(() => refuseOverwriting([at("b.csv")], [undefined, at("second name.csv")])).toThrow("nothing was written");
  });

  test("refuses results and samples in one file", () => {
    expect(() => refuseOverwriting([at("b.csv")], [at("new"), join(folder, ".", "new")])).toThrow("requires two files");
    expect(() => refuseOverwriting([at("b.csv")], [at("a.csv"), at("link.csv")])).toThrow("requires two files");
  });

  test("lets a new file, another one and a device be written", () => {
    expect(() => refuseOverwriting([at("b.csv"), at("gone.csv")], [at("new"), at("a.csv")])).not.toThrow();
    expect(() => refuseOverwriting(["/dev/null"], ["/dev/null", undefined])).not.toThrow();
    expect(() => refuseOverwriting([at("b.csv")], [undefined, undefined])).not.toThrow();
  });
});
