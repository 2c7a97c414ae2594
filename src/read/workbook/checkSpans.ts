import { Inflate } from "fflate";
import { InputError } from "../../errors.ts";
import type { ZipEntry } from "./checkZip.ts";

/** Most cells that the sheets of a workbook may reach over, the blank ones between them included. */
const MOST_CELLS = 20_000_000;

const DEFLATED = 8;
/** Packed bytes handed on at once: what they unpack to, at most a thousand times as much, is looked at before the next. */
const PIECE = 2 ** 14;

/**
 * Refuses a workbook whose cells lie so far apart that the rectangles they span do not fit into memory: a few hundred cells at the right
 * edge of every row suffice, and the library that reads sheets fills the rectangle before it looks at its size.
 *
 * Every part is looked at, since any of them may be named as a sheet.
 *
 * @param bytes Content of the file, no unit.
 * @param parts Its parts, as `checkZip` lists them.
 * @param most Most cells of all rectangles together, no unit.
 * @throws {InputError} `too-large` above that; `damaged` if a part is larger than it declares, or a cell has no place.
 */
export function checkSpans(bytes: Uint8Array, parts: readonly ZipEntry[], most: number = MOST_CELLS): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let cells = 0;
  for (const { packed, size, start } of parts) {
    if (start + 30 > bytes.length) throw damaged();
    const data = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    const span = new Span();
    const look = (piece: Uint8Array): void => {
      span.add(piece);
      if (cells + span.cells > most) {
        throw new InputError("too-large", `reading a workbook requires sheets that reach over at most ${most / 1e6} million cells, blank ones included; delete what stands far from the rest`);
      }
    };
    const content = bytes.subarray(data, data + packed);
    if (view.getUint16(start + 8, true) === DEFLATED) unpack(content, size, look);
    else look(content);
    cells += span.cells;
  }
}

function unpack(content: Uint8Array, size: number, look: (piece: Uint8Array) => void): void {
  let length = 0;
  const inflate = new Inflate((piece) => {
    length += piece.length;
    if (length > size) throw damaged();
    look(piece);
  });
  try {
    for (let at = 0; at < content.length; at += PIECE) inflate.push(content.subarray(at, at + PIECE), at + PIECE >= content.length);
  } catch (error) {
    throw error instanceof InputError ? error : damaged();
  }
}

const [OPEN, CLOSE, COLON, SLASH, EQUALS, DOUBLE, SINGLE, SMALL_R, ZERO, NINE] = [..."<>:/=\"'r09"].map((character) => character.charCodeAt(0)) as number[];
/** The last row and column that the format has. */
const [LAST_ROW, LAST_COLUMN] = [1_048_576, 16_384] as const;
/** Names of elements as one number, a letter a byte. */
const [CELL, ROW] = [0x63, 0x726f77] as const;
const LONGER = 0x1000000;

const enum At {
  Text,
  Name,
  Attributes,
  Value,
}

/** The rectangle from the first cell to the last row and column of a sheet, read from its XML byte by byte, piece after piece. */
class Span {
  private at = At.Text;
  private name = 0;
  /** Letter that is the whole name of the attribute; -1 for a longer one. */
  private attribute = 0;
  /** Whether the next letter begins the name of an attribute. */
  private named = false;
  private quote = 0;
  private letters = 0;
  private digits = 0;
  private sound = true;
  private row = 0;
  private column = 0;
  private lastRow = 0;
  private lastColumn = 0;

  get cells(): number {
    return this.lastRow * this.lastColumn;
  }

  add(piece: Uint8Array): void {
    for (let i = 0; i < piece.length; i++) {
      if (this.at === At.Text) {
        i = piece.indexOf(OPEN, i);
        if (i < 0) return;
        this.begin();
        continue;
      }
      const byte = piece[i]!;
      if (this.at === At.Value) {
        if (byte !== this.quote) this.addressByte(byte);
        else {
          if (this.attribute === SMALL_R) this.place();
          this.named = true;
          this.at = At.Attributes;
        }
      } else if (byte === OPEN) this.begin();
      else if (this.at === At.Name) this.nameByte(byte);
      else this.attributeByte(byte);
    }
  }

  private begin(): void {
    this.at = At.Name;
    this.name = 0;
  }

  private nameByte(byte: number): void {
    if (byte === COLON) this.name = 0;
    else if (byte > 32 && byte !== SLASH && byte !== CLOSE) this.name = this.name >= 0x10000 ? LONGER : this.name * 256 + byte;
    else if (this.name === ROW || this.name === CELL) {
      // Without an address: the next one.
      if (this.name === ROW) this.rowIs(this.row + 1);
      else this.cellIs(this.row, this.column + 1);
      this.named = true;
      this.at = byte === CLOSE ? At.Text : At.Attributes;
    } else this.at = At.Text;
  }

  private attributeByte(byte: number): void {
    if (byte === CLOSE) this.at = At.Text;
    else if (byte === DOUBLE || byte === SINGLE) {
      this.at = At.Value;
      this.quote = byte;
      this.letters = this.digits = 0;
      this.sound = true;
    } else if (byte <= 32) this.named = true;
    else if (byte !== EQUALS && byte !== SLASH) {
      this.attribute = this.named ? byte : -1;
      this.named = false;
    }
  }

  /** Letters first, then digits; anything else, an entity too, is no address. */
  private addressByte(byte: number): void {
    if (byte >= ZERO && byte <= NINE) this.digits = Math.min(this.digits * 10 + byte - ZERO, LAST_ROW + 1);
    else {
      const letter = (byte & 0xdf) - 64;
      if (letter < 1 || letter > 26 || this.digits > 0) this.sound = false;
      this.letters = Math.min(this.letters * 26 + letter, LAST_COLUMN + 1);
    }
  }

  private place(): void {
    const { letters, digits } = this;
    if (!this.sound || digits === 0 || digits > LAST_ROW || letters > LAST_COLUMN || (letters === 0) !== (this.name === ROW)) throw damaged();
    if (letters === 0) this.rowIs(digits);
    else this.cellIs(digits, letters);
  }

  private rowIs(row: number): void {
    this.row = row;
    this.column = 0;
  }

  /** A cell may stand in another row than the element around it says. */
  private cellIs(row: number, column: number): void {
    this.column = column;
    if (row > this.lastRow) this.lastRow = row;
    if (column > this.lastColumn) this.lastColumn = column;
  }
}

function damaged(): InputError {
  return new InputError("damaged", "reading a workbook requires a whole file, and a part of this one is damaged");
}
