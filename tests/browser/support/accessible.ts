/** The rules of WCAG 2.2 A and AA, as axe checks them. */
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";

/** @returns one line a violation, with the elements concerned; empty when there is none. */
export async function violations(page: Page): Promise<string[]> {
  // biome-ignore lint/suspicious/noExplicitAny: axe asks for the page type of another playwright package
  const { violations: found } = await new AxeBuilder({ page: page as any })
    .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"])
    .analyze();
  return found.map(
    ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map((node) => node.target.join(" ")).join(" | ")}`,
  );
}
