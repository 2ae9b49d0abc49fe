/** Hands a value to the browser as a JSON file to keep. */
export function saveJson(fileName: string, value: unknown): void {
  const address = URL.createObjectURL(
    new Blob([`${JSON.stringify(value, null, 2)}\n`], { type: "application/json" }),
  );
  const link = document.createElement("a");
  link.href = address;
  link.download = fileName;
  link.click();
  URL.revokeObjectURL(address);
}
