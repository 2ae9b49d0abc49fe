/** Texts of one language with another's where they are missing. */

/** Texts by topic; a text is a string, or a function of the parts that stand in it. */
export type Topics = Readonly<Record<string, Readonly<Record<string, unknown>>>>;

/** A translation: any topic and any text of it may be missing, none may be added. */
export type Translation<T extends Topics> = { readonly [K in keyof T]?: Partial<T[K]> };

/** The translation with the original's text wherever it has none. */
export function withFallback<T extends Topics>(original: T, translation: Translation<T>): T {
  const topics = Object.entries(original).map(([topic, texts]) => [
    topic,
    { ...texts, ...translation[topic as keyof T] },
  ]);
  return Object.fromEntries(topics) as T;
}

/** "topic.text" of everything that a translation leaves to the original, in the original's order. */
export function missingTexts<T extends Topics>(original: T, translation: Translation<T>): string[] {
  return Object.entries(original).flatMap(([topic, texts]) => {
    const said = translation[topic as keyof T] ?? {};
    return Object.keys(texts)
      .filter((text) => !Object.hasOwn(said, text))
      .map((text) => `${topic}.${text}`);
  });
}
