/** JSON Schemas as they stand in docs. */

/** The same schema with the forms of a column written once and referred to. */
export function shortened<Node>(node: Node, forms: string): Node {
  if (typeof node !== "object" || node === null) return node;
  if (Array.isArray(node)) return node.map((child) => shortened(child, forms)) as Node;
  const { description, ...rest } = node as { description?: string };
  if (JSON.stringify(rest) === forms) return { description, $ref: "#/$defs/columnForms" } as Node;
  return Object.fromEntries(
    Object.entries(node).map(([key, child]) => [key, shortened(child, forms)]),
  ) as Node;
}
