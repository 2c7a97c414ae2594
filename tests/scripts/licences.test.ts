import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { PERMISSIVE, runtimePackages, writeLicences } from "../../scripts/licences.js";
import { ROOT } from "../../scripts/sources.js";

describe("packages that are handed out", () => {
  const packages = runtimePackages();

  test("all have a permissive licence", () => {
    expect(packages.length).toBeGreaterThan(50);
    expect(packages.filter(({ licence }) => !PERMISSIVE.includes(licence ?? "")).map(({ name, licence }) => `${name}: ${licence}`)).toEqual([]);
  });

  test("where no licence is named, the licence file says which it is", () => {
    const telemetry = packages.find(({ name }) => name === "@univerjs/telemetry");
    expect(telemetry?.text).toContain("Apache License");
  });

  test("come with none that only development needs, and with no proprietary part of the spreadsheet", () => {
    const names = packages.map(({ name }) => name);
    expect(names).toContain("@univerjs/core");
    for (const name of ["vitest", "webpack", "@microsoft/office-js"]) expect(names).not.toContain(name);
    expect(names.filter((name) => name.startsWith("@univerjs-pro/"))).toEqual([]);
  });

  test("stand in the lock file, each direct one in exactly the version package.json names", () => {
    const { dependencies, devDependencies } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
    const lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8")).packages;
    for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies })) {
      expect(version, name).toMatch(/^\d+\.\d+\.\d+(-[\w.]+)?$/);
      expect(lock[`node_modules/${name}`]?.version, name).toBe(version);
    }
  });

  test("are listed beside the build, to read and for machines", () => {
    const folder = mkdtempSync(join(tmpdir(), "leapsheet-licences-"));
    try {
      writeLicences({ outDir: folder });
      const text = readFileSync(join(folder, "third-party-licenses.txt"), "utf8");
      const bom = JSON.parse(readFileSync(join(folder, "bom.json"), "utf8"));
      expect(bom).toMatchObject({ bomFormat: "CycloneDX", specVersion: "1.5" });
      expect(bom.components).toHaveLength(packages.length);
      for (const { name, version } of packages) expect(text).toContain(`${name} ${version}: `);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
