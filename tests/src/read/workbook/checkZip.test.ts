import { writeXlsx } from "hucre/xlsx";
import { deflateRawSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { readSheets } from "../../../../src/read/workbook/readSheets.ts";
import { checkZip } from "../../../../src/read/workbook/checkZip.ts";

const whole = await writeXlsx({ sheets: [{ name: "A", rows: [["a", 1]] }] });

/** Place of the end record and of the first central entry. */
function places(bytes: Uint8Array): { end: number; central: number } {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (view.getUint32(end, true) !== 0x06054b50) end--;
  return { end, central: view.getUint32(end + 16, true) };
}

function changed(change: (view: DataView, at: { end: number; central: number }) => void): Uint8Array {
  const bytes = whole.slice();
  change(new DataView(bytes.buffer), places(bytes));
  return bytes;
}

describe("checkZip", () => {
  test("lists the parts of a workbook", () => {
    expect(checkZip(whole).map((entry) => entry.name)).toContain("xl/workbook.xml");
  });

  test.each([
    ["a file that is no ZIP", new TextEncoder().encode("time,force\n".repeat(10)), "not-recognised"],
    ["more parts than allowed", changed((v, { end }) => v.setUint16(end + 10, 60_000, true)), "too-large"],
    ["ZIP64", changed((v, { end }) => v.setUint16(end + 10, 0xffff, true)), "too-large"],
    ["a part that unpacks to too much", changed((v, { central }) => v.setUint32(central + 24, 2 ** 31, true)), "too-large"],
    ["a part outside the file", changed((v, { central }) => v.setUint32(central + 42, 2 ** 30, true)), "damaged"],
    ["parts that share bytes", changed((v, { central }) => v.setUint32(central + 42, 60, true)), "damaged"],
    ["a directory outside the file", changed((v, { end }) => v.setUint32(end + 16, 2 ** 30, true)), "damaged"],
    ["no directory", whole.slice(0, places(whole).end), "damaged"],
  ])("refuses %s", (_what, bytes, code) => {
    expect(() => checkZip(bytes)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });

  test("refuses a file above the size it may have", () => {
    expect(() => checkZip(whole, { input: 100, unpacked: 1e9, entries: 2000 })).toThrow(expect.objectContaining({ code: "too-large" }));
  });
});

describe("readSheets", () => {
  test("refuses 200 MB of blanks in 200 kB by what the directory declares, at once", async () => {
    const bytes = bomb(200 * 2 ** 20);
    const started = performance.now();
    await expect(readSheets(bytes, { input: 2 ** 27, unpacked: 2 ** 26, entries: 2000 })).rejects.toMatchObject({ code: "too-large" });
    expect(performance.now() - started).toBeLessThan(500);
  });

  test("refuses what unpacks to hundreds of times its size, though the sum would be allowed", async () => {
    await expect(readSheets(bomb(100 * 2 ** 20))).rejects.toMatchObject({ code: "too-large", message: expect.stringMatching(/less than 100 times its size, and this one declares \d{3,4} times/) });
    // Small enough to do no harm: it is read, and found to be no workbook.
    await expect(readSheets(bomb(10 * 2 ** 20))).rejects.toMatchObject({ code: "damaged" });
  });

  test("refuses a part that is larger than it declares", async () => {
    await expect(readSheets(bomb(20 * 2 ** 20, 2000))).rejects.toMatchObject({ code: "damaged" });
  });
});

/** A ZIP file whose one part unpacks to blanks, of a declared size. */
function bomb(size: number, declared = size): Uint8Array {
  const packed = deflateRawSync(Buffer.alloc(size, 32));
  const name = Buffer.from("[Content_Types].xml");
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(packed.length, 18);
  local.writeUInt32LE(declared, 22);
  local.writeUInt16LE(name.length, 26);
  const central = Buffer.alloc(46);
  central.writeUInt32LE(0x02014b50, 0);
  central.writeUInt16LE(8, 10);
  central.writeUInt32LE(packed.length, 20);
  central.writeUInt32LE(declared, 24);
  central.writeUInt16LE(name.length, 28);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(46 + name.length, 12);
  end.writeUInt32LE(30 + name.length + packed.length, 16);
  return new Uint8Array(Buffer.concat([local, name, packed, central, name, end]));
}
