/** Gives bytes to the browser to save. */
export function saveFile(name: string, bytes: Uint8Array, type: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

export const XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** A name that every file system takes, made of any text. */
export function fileNameOf(text: string): string {
  return text.replace(/[^\p{L}\p{N} _.-]+/gu, " ").replace(/\s+/g, " ").trim().slice(0, 80) || "student";
}
