/** Files dropped on the page. */
import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";

export interface DroppedFile {
  name: string;
  text?: string;
  path?: string;
}

/** Drops files on the page as a user's hand would: by a drop event that carries them. */
export async function drop(page: Page, files: readonly DroppedFile[]): Promise<void> {
  const carried = await Promise.all(
    files.map(async ({ name, text, path }) => ({
      name,
      base64: (path ? await readFile(path) : Buffer.from(text ?? "")).toString("base64"),
    })),
  );
  const transfer = await page.evaluateHandle((all) => {
    const data = new DataTransfer();
    for (const { name, base64 } of all) {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      data.items.add(new File([bytes], name));
    }
    return data;
  }, carried);
  await page.dispatchEvent("body", "drop", { dataTransfer: transfer });
}

/** Drops files without a manifest and goes on with what they are taken for. */
export async function dropField(page: Page, files: readonly DroppedFile[]): Promise<void> {
  await drop(page, files);
  await page.getByRole("button", { name: "Work it out", exact: true }).click({ timeout: 120_000 });
}
