/**
 * Fields whose files the user asked the browser to keep: in its own storage on this computer, by name, until they are
 * forgotten. Nothing is kept unasked.
 */
import { signal } from "@preact/signals";

const DATABASE = "evenstand";
const STORE = "fields";

interface KeptField {
  name: string;
  /** What each file is, answers of the user in it. */
  manifest: Record<string, unknown>;
  files: { name: string; bytes: Blob }[];
}

/** What the opening screen says of a kept field. */
export interface KeptShown {
  name: string;
  files: number;
  bytes: number;
}

/** The kept fields by name, as far as they have been asked for. */
export const keptFields = signal<readonly KeptShown[]>([]);

/** Reads which fields are kept. A browser that keeps nothing has none. */
export async function findKeptFields(): Promise<void> {
  try {
    const all = await inStore<KeptField[]>("readonly", (store) => store.getAll());
    keptFields.value = all.map(({ name, files }) => ({
      name,
      files: files.length,
      bytes: files.reduce((sum, { bytes }) => sum + bytes.size, 0),
    }));
  } catch {
    keptFields.value = [];
  }
}

/** @throws {Error} where the browser refuses, as for want of room */
export async function keepField(field: KeptField): Promise<void> {
  await inStore("readwrite", (store) => store.put(field));
  await findKeptFields();
}

/** @returns null where no such field is kept */
export async function keptField(name: string): Promise<KeptField | null> {
  return (await inStore<KeptField | undefined>("readonly", (store) => store.get(name))) ?? null;
}

export async function forgetField(name: string): Promise<void> {
  await inStore("readwrite", (store) => store.delete(name));
  await findKeptFields();
}

/** One request to the store, from opening it to its answer. */
function inStore<Answer>(
  mode: IDBTransactionMode,
  ask: (store: IDBObjectStore) => IDBRequest,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open(DATABASE, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE, { keyPath: "name" });
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const database = opening.result;
      const transaction = database.transaction(STORE, mode);
      const request = ask(transaction.objectStore(STORE));
      // Written only once the transaction is through.
      transaction.oncomplete = () => {
        database.close();
        resolve(request.result as Answer);
      };
      transaction.onabort = () => {
        database.close();
        reject(transaction.error);
      };
    };
  });
}
