/** Edit distance (Levenshtein 1966: insertions, deletions, substitutions, each 1) between two texts, ignoring case. */
export function editDistance(first: string, second: string): number {
  const a = first.toLowerCase();
  const b = second.toLowerCase();
  let previous = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const substitution = (previous[column - 1] ?? 0) + (a[row - 1] === b[column - 1] ? 0 : 1);
      current.push(Math.min(substitution, (previous[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1));
    }
    previous = current;
  }
  return previous[b.length] ?? 0;
}

/** The candidate with the least edit distance to `word` (the first of equals), null when there is none. */
export function nearestWord(word: string, candidates: readonly string[]): string | null {
  let nearest: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const distance = editDistance(word, candidate);
    if (distance < least) {
      least = distance;
      nearest = candidate;
    }
  }
  return nearest;
}
