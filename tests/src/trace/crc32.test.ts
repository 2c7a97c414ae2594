import { expect, test } from "vitest";
import { crc32 } from "../../../src/trace/crc32.ts";

test("crc32 gives the check value of the catalogue of checksums", () => {
  // 0xCBF43926 for "123456789": check value of CRC-32/ISO-HDLC; also Python's zlib.crc32(b"123456789").
  expect(crc32("123456789")).toBe(0xcbf43926);
});

test("crc32 of bytes is that of the same characters", () => {
  expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
});

test("crc32 of two halves, continued, is that of the whole", () => {
  expect(crc32("6789", crc32("12345"))).toBe(crc32("123456789"));
});
