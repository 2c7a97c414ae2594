/** A C3D file made from scratch for tests, after the description of the format. */
export interface C3dOptions {
  readonly processor: "intel" | "dec" | "sgi";
  /** Data as reals, or as whole numbers of 16 bits. */
  readonly real: boolean;
  readonly unsigned?: boolean;
  /** Scaled values of each channel. */
  readonly channels: readonly Float64Array[];
  readonly labels: readonly string[];
  readonly perFrame: number;
  readonly pointRate: number;
  readonly scale: number;
  readonly offset: number;
  readonly points?: number;
  readonly plates?: {
    readonly type: number;
    readonly corners: readonly number[];
    readonly channels: readonly number[];
    readonly matrix?: readonly number[];
  }[];
  readonly zero?: readonly [number, number];
  /** Filler parameters, to make the section longer than a block. */
  readonly filler?: number;
  /** Write the number of frames only where a longer count has its place. */
  readonly longFrames?: boolean;
}

export function writeC3d(options: C3dOptions): Uint8Array {
  const writer = new Writer(options.processor);
  const samples = options.channels[0].length;
  const frames = samples / options.perFrame;
  const points = options.points ?? 0;

  writer.skip(512 + 4);
  const group = (name: string, id: number) => {
    writer.byte(name.length).byte(-id & 255).ascii(name).int16(3).byte(0);
  };
  const parameter = (id: number, name: string, type: number, dimensions: readonly number[], put: () => void) => {
    writer.byte(name.length).byte(id).ascii(name);
    const at = writer.length;
    writer.int16(0).byte(type & 255).byte(dimensions.length);
    for (const size of dimensions) writer.byte(size);
    put();
    writer.byte(0);
    writer.patchInt16(at, writer.length - at);
  };
  const int16s = (id: number, name: string, values: readonly number[], dimensions: readonly number[] = [values.length]) =>
    parameter(id, name, 2, dimensions, () => values.forEach((value) => writer.int16(value)));
  const reals = (id: number, name: string, values: readonly number[], dimensions: readonly number[] = [values.length]) =>
    parameter(id, name, 4, dimensions, () => values.forEach((value) => writer.real(value)));
  const texts = (id: number, name: string, values: readonly string[], width: number) =>
    parameter(id, name, -1, [width, values.length], () => values.forEach((value) => writer.ascii(value.padEnd(width))));

  group("POINT", 1);
  reals(1, "SCALE", [options.real ? -1 : 1], []);
  reals(1, "RATE", [options.pointRate], []);
  if (options.longFrames) reals(1, "FRAMES", [frames], []);
  // A parameter may come before its group.
  int16s(2, "USED", [options.channels.length], []);
  group("ANALOG", 2);
  reals(2, "GEN_SCALE", [1], []);
  reals(2, "SCALE", options.channels.map(() => options.scale));
  int16s(2, "OFFSET", options.channels.map(() => options.offset));
  reals(2, "RATE", [options.pointRate * options.perFrame], []);
  texts(2, "LABELS", options.labels, 12);
  if (options.unsigned) texts(2, "FORMAT", ["UNSIGNED"], 8);
  if (options.plates) {
    group("FORCE_PLATFORM", 3);
    int16s(3, "USED", [options.plates.length], []);
    int16s(3, "TYPE", options.plates.map((plate) => plate.type));
    int16s(3, "ZERO", options.zero ?? [0, 0]);
    reals(3, "CORNERS", options.plates.flatMap((plate) => plate.corners), [3, 4, options.plates.length]);
    const width = Math.max(...options.plates.map((plate) => plate.channels.length));
    int16s(3, "CHANNEL", options.plates.flatMap((plate) => [...plate.channels, ...Array(width - plate.channels.length).fill(0)]), [width, options.plates.length]);
    if (options.plates.some((plate) => plate.matrix)) {
      reals(3, "CAL_MATRIX", options.plates.flatMap((plate) => plate.matrix ?? Array(36).fill(0)), [6, 6, options.plates.length]);
    }
  }
  if (options.longFrames) {
    group("TRIAL", 4);
    int16s(4, "ACTUAL_START_FIELD", [1, 0]);
    int16s(4, "ACTUAL_END_FIELD", [frames & 0xffff, frames >>> 16]);
  }
  for (let i = 0; i < (options.filler ?? 0); i++) texts(1, `FILL${i}`, ["x".repeat(100)], 100);
  writer.byte(0);
  writer.pad(512);
  const dataBlock = writer.length / 512 + 1;

  for (let frame = 0; frame < frames; frame++) {
    writer.skip(points * 4 * (options.real ? 4 : 2));
    for (let k = 0; k < options.perFrame; k++) {
      for (const channel of options.channels) {
        const raw = channel[frame * options.perFrame + k] / options.scale + options.offset;
        if (options.real) writer.real(raw);
        else writer.int16(Math.round(raw));
      }
    }
  }
  writer.pad(512);

  writer.at(0).byte(2).byte(0x50).int16(points).int16(options.channels.length * options.perFrame).int16(1).int16(options.longFrames ? 0xffff : frames);
  writer.int16(0).real(options.real ? -1 : 1).int16(dataBlock).int16(options.perFrame).real(options.pointRate);
  writer.at(512).byte(1).byte(0x50).byte(dataBlock - 2).byte({ intel: 84, dec: 85, sgi: 86 }[options.processor]);
  return writer.bytes();
}

class Writer {
  private data = new Uint8Array(1 << 16);
  private place = 0;
  length = 0;

  constructor(private readonly processor: "intel" | "dec" | "sgi") {}

  bytes(): Uint8Array {
    return this.data.slice(0, this.length);
  }

  at(place: number): this {
    this.place = place;
    return this;
  }

  skip(count: number): this {
    this.room(count);
    this.place += count;
    this.length = Math.max(this.length, this.place);
    return this;
  }

  pad(block: number): void {
    this.skip((block - (this.length % block)) % block);
  }

  byte(value: number): this {
    this.room(1);
    this.data[this.place++] = value;
    this.length = Math.max(this.length, this.place);
    return this;
  }

  ascii(text: string): this {
    for (const letter of text) this.byte(letter.charCodeAt(0));
    return this;
  }

  int16(value: number): this {
    const [high, low] = [(value >> 8) & 255, value & 255];
    return this.processor === "sgi" ? this.byte(high).byte(low) : this.byte(low).byte(high);
  }

  patchInt16(place: number, value: number): void {
    const here = this.place;
    this.at(place).int16(value).at(here);
  }

  real(value: number): this {
    const scratch = new DataView(new ArrayBuffer(4));
    // A VAX F real is the IEEE one of four times the value, its two words swapped.
    scratch.setFloat32(0, this.processor === "dec" ? value * 4 : value);
    const b = [0, 1, 2, 3].map((i) => scratch.getUint8(i));
    const order = this.processor === "sgi" ? [0, 1, 2, 3] : this.processor === "dec" ? [1, 0, 3, 2] : [3, 2, 1, 0];
    for (const i of order) this.byte(b[i]);
    return this;
  }

  private room(count: number): void {
    if (this.place + count <= this.data.length) return;
    const larger = new Uint8Array(this.data.length * 2 + count);
    larger.set(this.data);
    this.data = larger;
  }
}
