import type { Applied, CellRef, SheetHost } from "../host/SheetHost.ts";

/** A picture that is to stand on a sheet. */
export interface Picture {
  /** PNG or JPEG. */
  readonly dataUrl: string;
  readonly width: number;
  readonly height: number;
  readonly altText: string;
}

/** Places a chart on a sheet, as a step of its own. */
export function placePicture(host: SheetHost, picture: Picture, at: CellRef, label: string): Promise<Applied> {
  return host.apply([{ kind: "picture", of: "chart", ...picture, ...at }], { label });
}
