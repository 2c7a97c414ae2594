/** The files of a drop, folders opened all the way down; hidden files are left out. */
export async function filesFromDrop(dropped: DataTransfer): Promise<readonly File[]> {
  // Entries must be taken before the first wait: the drop is emptied after it.
  const entries = [...dropped.items].map((item) => item.webkitGetAsEntry?.()).filter((entry) => entry !== null && entry !== undefined);
  if (entries.length === 0) return [...dropped.files];
  const files: File[] = [];
  for (const entry of entries) await open(entry, files);
  return files;
}

async function open(entry: FileSystemEntry, files: File[]): Promise<void> {
  if (entry.name.startsWith(".")) return;
  if (entry.isFile) {
    files.push(await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject)));
    return;
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  // A folder is read in parts until a part is empty.
  for (;;) {
    const part = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (part.length === 0) return;
    for (const inner of part) await open(inner, files);
  }
}
