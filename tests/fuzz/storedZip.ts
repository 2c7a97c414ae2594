import { crc32, inflateRawSync } from "node:zlib";

/** The parts of a ZIP file by name. */
export function unzip(bytes: Uint8Array): Map<string, Uint8Array> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (view.getUint32(end, true) !== 0x06054b50) end--;
  const parts = new Map<string, Uint8Array>();
  let at = view.getUint32(end + 16, true);
  for (let i = 0; i < view.getUint16(end + 10, true); i++) {
    const start = view.getUint32(at + 42, true);
    const data = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    const packed = bytes.subarray(data, data + view.getUint32(at + 20, true));
    const nameLength = view.getUint16(at + 28, true);
    const name = Buffer.from(bytes.subarray(at + 46, at + 46 + nameLength)).toString();
    parts.set(name, view.getUint16(at + 10, true) === 0 ? packed.slice() : new Uint8Array(inflateRawSync(packed)));
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return parts;
}

/** A ZIP file of parts that are not packed, with right sizes and checksums. */
export function storedZip(parts: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const pieces: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, content] of parts) {
    const path = Buffer.from(name);
    const sum = crc32(content);
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt32LE(sum, 14);
    local.writeUInt32LE(content.length, 18);
    local.writeUInt32LE(content.length, 22);
    local.writeUInt16LE(path.length, 26);
    const central = Buffer.alloc(46);
    central.writeUInt32LE(0x02014b50, 0);
    central.writeUInt32LE(sum, 16);
    central.writeUInt32LE(content.length, 20);
    central.writeUInt32LE(content.length, 24);
    central.writeUInt16LE(path.length, 28);
    central.writeUInt32LE(offset, 42);
    pieces.push(local, path, Buffer.from(content));
    directory.push(central, path);
    offset += local.length + path.length + content.length;
  }
  const length = directory.reduce((sum, piece) => sum + piece.length, 0);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(parts.size, 8);
  end.writeUInt16LE(parts.size, 10);
  end.writeUInt32LE(length, 12);
  end.writeUInt32LE(offset, 16);
  return new Uint8Array(Buffer.concat([...pieces, ...directory, end]));
}
