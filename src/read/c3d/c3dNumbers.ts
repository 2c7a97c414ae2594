/** How a C3D file writes its numbers; the byte for it stands in the parameter section. */
export type Processor = "intel" | "dec" | "sgi";

/** Reads the numbers of a C3D file in the order of bytes and the kind of reals of one processor. */
export class C3dNumbers {
  private readonly view: DataView;
  private readonly little: boolean;
  private readonly scratch = new DataView(new ArrayBuffer(4));

  constructor(
    readonly bytes: Uint8Array,
    private readonly processor: Processor,
  ) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.little = processor !== "sgi";
  }

  int16(at: number): number {
    return this.view.getInt16(at, this.little);
  }

  uint16(at: number): number {
    return this.view.getUint16(at, this.little);
  }

  /** A real of 32 bits. On a DEC machine its two words are swapped and its exponent is greater by two (VAX F format). */
  real(at: number): number {
    if (this.processor !== "dec") return this.view.getFloat32(at, this.little);
    const { bytes, scratch } = this;
    scratch.setUint8(0, bytes[at + 1]);
    scratch.setUint8(1, bytes[at]);
    scratch.setUint8(2, bytes[at + 3]);
    scratch.setUint8(3, bytes[at + 2]);
    return scratch.getFloat32(0, false) / 4;
  }
}
