/**
 * Random numbers of the invented worlds. They share no code with the tool that is judged. A text names the stream,
 * so that a field follows from world, kind and seed alone and no draw of one part moves another part.
 */

/** A source of uniform numbers in [0, 1). */
export type Chance = () => number;

/** The stream that a text names: the text hashed (FNV-1a), then a counter mixed as in splitmix with 32 bits. */
export function chanceOf(name: string): Chance {
  let state = 0x811c9dc5;
  for (const letter of name) state = Math.imul(state ^ letter.codePointAt(0)!, 0x01000193);
  const word = (): number => {
    state = (state + 0x9e3779b9) | 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  };
  for (let k = 0; k < 8; k++) word();
  return () => ((word() >>> 5) * 67_108_864 + (word() >>> 6)) / 9_007_199_254_740_992;
}

/** Uniform between two limits. */
export function between(chance: Chance, low: number, high: number): number {
  return low + (high - low) * chance();
}

/** One of a list, each as likely. */
export function oneOf<Item>(chance: Chance, list: readonly Item[]): Item {
  return list[Math.floor(chance() * list.length)]!;
}

/** Standard normal number by the polar method (Marsaglia & Bray 1964). */
export function gauss(chance: Chance): number {
  for (;;) {
    const [a, b] = [2 * chance() - 1, 2 * chance() - 1];
    const square = a * a + b * b;
    if (square > 0 && square < 1) return a * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/** Successes of `tries` with one probability each. */
export function successes(chance: Chance, tries: number, probability: number): number {
  let sum = 0;
  for (let k = 0; k < tries; k++) if (chance() < probability) sum++;
  return sum;
}
