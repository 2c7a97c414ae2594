/** Gives the person a file to save. */
export function giveFile(parts: BlobPart[], type: string, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob(parts, { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
