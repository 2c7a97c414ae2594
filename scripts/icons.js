// Draws the add-in's icons into taskpane/assets: a tile with the ground line, the arc of a leap and the person at its top.
// Run by hand after a change of the drawing: node scripts/icons.js
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import * as zlib from "node:zlib";
import { ROOT } from "./sources.js";

export const ICON_SIZES = [16, 32, 64, 80];

const TILE = [18, 78, 97];
const LINE = [255, 255, 255];
const BODY = [255, 196, 61];
const SAMPLES = 5;

/** Colour and opacity of the drawing at a point of the unit square. */
function drawingAt(x, y, pixel) {
  const corner = 0.19;
  const dx = Math.max(corner - x, x - (1 - corner), 0);
  const dy = Math.max(corner - y, y - (1 - corner), 0);
  if (Math.hypot(dx, dy) > corner) return undefined;
  const stroke = Math.max(0.045, 0.55 * pixel);
  if (Math.hypot(x - 0.5, y - 0.265) < 0.115) return BODY;
  if (x > 0.13 && x < 0.87 && Math.abs(y - 0.8) < stroke) return LINE;
  if (x > 0.2 && x < 0.8) {
    const u = (x - 0.5) / 0.3;
    const arc = 0.47 + 0.33 * u * u;
    const slope = (0.66 * u) / 0.3;
    if (Math.abs(y - arc) / Math.hypot(1, slope) < stroke && y < 0.8) return LINE;
  }
  return TILE;
}

/** A square picture as the bytes of a PNG file with transparency. */
export function iconPng(size) {
  const rows = Buffer.alloc(size * (1 + 4 * size));
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      let seen = 0;
      const sum = [0, 0, 0];
      for (let i = 0; i < SAMPLES * SAMPLES; i++) {
        const x = (column + ((i % SAMPLES) + 0.5) / SAMPLES) / size;
        const y = (row + (Math.floor(i / SAMPLES) + 0.5) / SAMPLES) / size;
        const colour = drawingAt(x, y, 1 / size);
        if (colour === undefined) continue;
        seen++;
        for (let c = 0; c < 3; c++) sum[c] += colour[c];
      }
      const at = row * (1 + 4 * size) + 1 + 4 * column;
      for (let c = 0; c < 3; c++) rows[at + c] = seen === 0 ? 0 : Math.round(sum[c] / seen);
      rows[at + 3] = Math.round((255 * seen) / (SAMPLES * SAMPLES));
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  head.set([8, 6, 0, 0, 0], 8);
  return Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk("IHDR", head), chunk("IDAT", zlib.deflateSync(rows, { level: 9 })), chunk("IEND", Buffer.alloc(0))]);
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(zlib.crc32 ? zlib.crc32(body) : slowCrc(body));
  return Buffer.concat([length, body, check]);
}

/** CRC-32 bit by bit, for Node versions without `zlib.crc32`. */
function slowCrc(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const folder = join(ROOT, "taskpane", "assets");
  mkdirSync(folder, { recursive: true });
  for (const size of ICON_SIZES) writeFileSync(join(folder, `icon-${size}.png`), iconPng(size));
}
