import type { Applied, CellRef, SheetHost } from "../host/SheetHost.ts";

/** A picture that is to stand on a sheet. */
export interface Picture {
  /** PNG or JPEG. */
  readonly dataUrl: string;
  readonly width: number;
  readonly height: number;
  readonly altText: string;
}

/** Places a picture on a sheet, as a step that can be undone: then the pictures stand there that stood there before. */
export async function placePicture(host: SheetHost, picture: Picture, at: CellRef, label: string): Promise<Applied> {
  // Taken and put back at once: what was there is known then, in either spreadsheet.
  const putBack = await host.takePictures(at.sheet);
  await putBack();
  await host.addPicture(at.sheet, picture.dataUrl, at, { width: picture.width, height: picture.height }, picture.altText);
  const applied = await host.apply([], { label });
  return {
    ...applied,
    afterUndo: async () => {
      await host.takePictures(at.sheet);
      await putBack();
    },
  };
}
