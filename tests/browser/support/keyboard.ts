/** A person without a mouse: Tab, Enter, the arrow keys, and nothing else. */
import type { Locator, Page } from "playwright-core";
import { PATIENCE } from "./browser.ts";

/** More stops than any part of the page has; what is not reached by then cannot be reached. */
const MOST_STOPS = 250;

export class Keyboard {
  /** Every key that was pressed. */
  keys = 0;
  /** Stops whose focus could not be seen. */
  readonly unseen: string[] = [];
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }

  async key(name: string): Promise<void> {
    this.keys++;
    await this.page.keyboard.press(name);
  }

  /** Goes on with Tab until the element has the focus. @throws where it is not among the stops of the page */
  async reach(wanted: Locator, key: "Tab" | "Shift+Tab" = "Tab"): Promise<void> {
    await wanted.first().waitFor({ timeout: PATIENCE });
    for (let stop = 0; stop < MOST_STOPS; stop++) {
      if (await wanted.first().evaluate((element) => element === element.ownerDocument.activeElement)) return;
      await this.key(key);
      await this.lookAtFocus();
    }
    throw new Error(`not reached with ${key}: ${wanted}`);
  }

  async press(role: "button" | "combobox", name: string | RegExp): Promise<void> {
    await this.reach(this.page.getByRole(role, { name, exact: true }));
    await this.key("Enter");
  }

  /** @param key what the focus is moved with, where going back is the shorter way */
  async back(role: "button", name: string | RegExp): Promise<void> {
    await this.reach(this.page.getByRole(role, { name, exact: true }), "Shift+Tab");
    await this.key("Enter");
  }

  /** The focused element is on the screen, not covered, and marked. */
  private async lookAtFocus(): Promise<void> {
    const fault = await this.page.evaluate(() => {
      const at = document.activeElement;
      if (!(at instanceof HTMLElement || at instanceof SVGElement) || at === document.body) return null;
      const { outlineStyle, outlineWidth } = getComputedStyle(at);
      const box = at.getBoundingClientRect();
      const said = `${at.tagName} ${(at.getAttribute("aria-label") ?? at.textContent ?? "").trim().slice(0, 40)}`;
      if (outlineStyle === "none" || Number.parseFloat(outlineWidth) < 2) return `${said}: no outline`;
      if (box.width < 1 || box.height < 1) return `${said}: without size`;
      const inSight = box.right > 0 && box.bottom > 0 && box.left < innerWidth && box.top < innerHeight;
      return inSight ? null : `${said}: off the screen`;
    });
    if (fault !== null && !this.unseen.includes(fault)) this.unseen.push(fault);
  }
}
