/**
 * Random numbers that repeat: the same seed gives the same sequence on every machine, so that the same
 * input gives the same bytes out.
 */

/** A source of uniform numbers in [0, 1). */
export type Random = () => number;

/**
 * Uniform numbers in [0, 1) with 53 random bits, from the generator xoshiro128** (Blackman & Vigna 2021,
 * ACM Trans. Math. Softw. 47(4):36), its state filled from the seed by a 32-bit mixing of a Weyl sequence.
 * @param seed any finite number; its low 32 bits and the next 21 bits count.
 */
export function seededRandom(seed: number): Random {
  let weyl = (seed | 0) ^ Math.imul(Math.floor(seed / 4294967296) | 0, 0x9e3779b1);
  const mixed = (): number => {
    weyl = (weyl + 0x9e3779b9) | 0;
    let word = weyl;
    word = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
    return word ^ (word >>> 16);
  };
  let a = mixed();
  let b = mixed();
  let c = mixed();
  let d = mixed();
  if ((a | b | c | d) === 0) d = 1; // the all-zero state is the one the generator never leaves
  const word = (): number => {
    const times5 = Math.imul(b, 5);
    const output = Math.imul((times5 << 7) | (times5 >>> 25), 9);
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return output >>> 0;
  };
  return () => ((word() >>> 5) * 67108864 + (word() >>> 6)) / 9007199254740992;
}

/** One standard normal number (mean 0, SD 1), from two uniform ones (Box & Muller 1958). */
export function normal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

/** A 32-bit number from the bits of the values (FNV-1a, Fowler, Noll & Vo), to seed simulations by their own input. */
export function hashNumbers(values: Float64Array): number {
  const bytes = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
  let hash = 0x811c9dc5;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193);
  return hash >>> 0;
}
