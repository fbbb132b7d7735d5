/**
 * What this browser keeps beyond a reload in one database of its own: the last answers for the bench,
 * and photographs that are not sent yet. Every function fails where the browser keeps nothing.
 */
const kName = 'rollwright';
const kShelves = ['answers', 'photos'] as const;
export type Shelf = (typeof kShelves)[number];

let opening: Promise<IDBDatabase> | undefined;

function open(): Promise<IDBDatabase> {
  opening ??= new Promise((resolve, reject) => {
    if (typeof indexedDB === 'undefined') throw new Error('This browser has no database.');
    const request = indexedDB.open(kName, 1);
    request.onupgradeneeded = () => {
      for (const shelf of kShelves) request.result.createObjectStore(shelf, { keyPath: 'key' });
    };
    request.onerror = () => reject(request.error ?? new Error('The database does not open.'));
    request.onsuccess = () => {
      // The browser may close it, as when a person clears what it keeps; it is then opened anew.
      request.result.onclose = () => { opening = undefined; };
      resolve(request.result);
    };
  });
  return opening;
}

/** One transaction; comes back once it is on the disk. */
async function within<T>(shelf: Shelf, mode: IDBTransactionMode, deed: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const transaction = (await open()).transaction(shelf, mode);
  const request = deed(transaction.objectStore(shelf));
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(request.result);
    transaction.onabort = () => reject(transaction.error ?? new Error('The database took nothing.'));
  });
}

export const allOn = (shelf: Shelf): Promise<unknown[]> => within(shelf, 'readonly', (store) => store.getAll());
export const oneOn = (shelf: Shelf, key: string): Promise<unknown> => within(shelf, 'readonly', (store) => store.get(key) as IDBRequest<unknown>);
export const putOn = <T extends { key: string }>(shelf: Shelf, value: T) => within(shelf, 'readwrite', (store) => store.put(value));
export const takeOff = (shelf: Shelf, key: string) => within(shelf, 'readwrite', (store) => store.delete(key));
export const clear = (shelf: Shelf) => within(shelf, 'readwrite', (store) => store.clear());
