/** Hands bytes to the browser as a file to keep. */
export function saveFile(
  name: string,
  content: Uint8Array | string | Blob,
  type = "application/octet-stream",
): void {
  const blob =
    content instanceof Blob ? content : new Blob([content as Uint8Array<ArrayBuffer> | string], { type });
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}

/** A value as a JSON file. */
export function saveJson(name: string, value: unknown): void {
  saveFile(name, `${JSON.stringify(value, null, 2)}\n`, "application/json");
}
