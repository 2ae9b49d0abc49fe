/** What a screen reader reads, in its order: Chromium's accessibility tree, the way it is handed to one. */
import type { Page } from "playwright-core";

export interface Read {
  role: string;
  name: string;
  /** Level of a heading, null for anything else. */
  level: number | null;
}

interface Node {
  nodeId: string;
  ignored: boolean;
  role?: { value: string };
  name?: { value: string };
  properties?: { name: string; value: { value: unknown } }[];
  childIds?: string[];
}

/** Parts of a line of text that say the same as the text they are in. */
const SAID_BY_PARENT = new Set(["InlineTextBox", "LineBreak"]);

/** @returns everything that is not hidden from a reader, parents before their parts */
export async function readingOrder(page: Page): Promise<Read[]> {
  const talk = await page.context().newCDPSession(page);
  const { nodes } = (await talk.send("Accessibility.getFullAXTree")) as { nodes: Node[] };
  await talk.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const read: Read[] = [];
  const walk = (node: Node | undefined): void => {
    if (!node) return;
    const role = node.role?.value ?? "";
    if (!node.ignored && !SAID_BY_PARENT.has(role)) {
      const level = node.properties?.find(({ name }) => name === "level")?.value.value;
      read.push({ role, name: node.name?.value ?? "", level: typeof level === "number" ? level : null });
    }
    for (const id of node.childIds ?? []) walk(byId.get(id));
  };
  walk(nodes[0]);
  return read;
}

const LANDMARKS = ["banner", "main", "navigation", "complementary", "contentinfo", "region"];

/** Landmarks with their names, in reading order. */
export function landmarks(read: readonly Read[]): string[] {
  return read
    .filter(({ role }) => LANDMARKS.includes(role))
    .map(({ role, name }) => (name === "" ? role : `${role}: ${name}`));
}

export function headings(read: readonly Read[]): { level: number; name: string }[] {
  return read.flatMap(({ role, name, level }) => (role === "heading" ? [{ level: level ?? 0, name }] : []));
}

/** Headings that leave a level out on the way down, or begin the page below the first. */
export function skippedLevels(read: readonly Read[]): string[] {
  const all = headings(read);
  return all.filter(({ level }, i) => level > (all[i - 1]?.level ?? 0) + 1).map(({ name }) => name);
}

/**
 * Where each of the words stands in what is read, one after the other.
 * @throws {Error} naming the first that does not come after those before it
 */
export function expectInOrder(read: readonly Read[], wanted: readonly (string | RegExp)[]): void {
  let from = 0;
  for (const words of wanted) {
    const at = read.findIndex(
      ({ name }, i) => i >= from && (typeof words === "string" ? name.includes(words) : words.test(name)),
    );
    if (at < 0) {
      const before = read.findIndex(({ name }) =>
        typeof words === "string" ? name.includes(words) : words.test(name),
      );
      throw new Error(`${words} is ${before < 0 ? "not read" : "read too early"}, after place ${from}`);
    }
    from = at + 1;
  }
}
