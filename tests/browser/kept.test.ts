/** Files kept in the browser: only when asked for, opened again after a reload and from the opening screen, forgotten by a press. */
import { expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import { ledgerShown, openTakeAlong, PATIENCE } from "./support/browser.ts";
import { dropField } from "./support/drop.ts";
import { emptyPages } from "./support/empty-page.ts";
import { smallField } from "./support/small-field.ts";

const open = emptyPages();

it("keeps a field when asked, opens it again without its files, and forgets it", async () => {
  const watched = await open();
  const { page } = watched;
  await dropField(page, smallField());
  await ledgerShown(page);
  const name = (await page.locator("h1").textContent())!.split(" 20")[0]!.trim();
  expect(await page.locator(".kept").count()).toBe(0);

  await openTakeAlong(page);
  await page.getByRole("button", { name: "Keep in this browser" }).click();
  await page.locator(".along-said", { hasText: "Kept." }).waitFor({ timeout: PATIENCE });
  await page.reload();
  await ledgerShown(page);
  // What the files were taken for is kept with them: nothing is asked again.
  expect(await page.locator(".sorting-table").count()).toBe(0);

  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Open…" }).click();
  const kept = page.locator(".kept li");
  expect(await kept.count()).toBe(1);
  expect(await kept.textContent()).toContain("2 files");
  expect(await violations(page)).toEqual([]);
  await kept.getByRole("button").first().click();
  // The field that was on the page stays until the kept one has taken its place.
  await page.locator(".loading").waitFor({ timeout: PATIENCE });
  await page.locator(".loading").waitFor({ state: "detached", timeout: PATIENCE });
  await ledgerShown(page);

  await page.getByRole("button", { name: "Open…" }).click();
  await kept.getByRole("button", { name: /^Forget/ }).click();
  await expect.poll(() => page.locator(".kept").count()).toBe(0);
  await page.reload();
  await page.waitForFunction(() => document.querySelector(".welcome-said")?.textContent !== "");
  expect(await page.locator(".welcome-said").textContent()).toContain(`${name} was open here`);
  expect(watched.complaints).toEqual([]);
  expect(watched.outside).toEqual([]);
  await watched.close();
});
