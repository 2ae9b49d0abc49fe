/** How things are named one after another. */
export const lists = {
  /** "a", "a and b", "a, b and c". */
  all: (names: readonly string[]): string =>
    names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`,
};
