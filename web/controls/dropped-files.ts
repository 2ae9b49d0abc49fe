/** Files of a drop, those in dropped folders too. */
export async function filesOfDrop(dropped: DataTransfer): Promise<File[]> {
  const entries = [...dropped.items].map((item) => item.webkitGetAsEntry?.() ?? null);
  const plain = [...dropped.files];
  if (!entries.some((entry) => entry?.isDirectory)) return plain;
  const found = await Promise.all(entries.map((entry) => (entry ? filesUnder(entry) : [])));
  return found.flat();
}

async function filesUnder(entry: FileSystemEntry): Promise<File[]> {
  if (entry.isFile) {
    return [
      await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject)),
    ];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const files: File[] = [];
  for (;;) {
    // A reader hands out a folder in batches until an empty one.
    const batch = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (batch.length === 0) return files;
    for (const each of batch) files.push(...(await filesUnder(each)));
  }
}
