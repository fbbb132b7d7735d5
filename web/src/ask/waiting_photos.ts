/** To what a photograph belongs. */
export type PhotoOf =
  | { kind: 'bike'; order: string; about: string; who: string }
  | { kind: 'goods'; line: string; claim: number };  // claim 0: the delivery itself

export interface WaitingPhoto {
  key: string;         // the server writes the same key once, however often it is sent
  of: PhotoOf;
  by: string;          // id of the person who took it; empty while nobody signs in
  at: string;          // when it was taken, by the shop's clock
  bytes: ArrayBuffer;  // as the camera gave it
  isWaiting: boolean;  // the server was not reached
  isKept: boolean;     // in the browser's database
  refused: string;     // the server's sentence against it; empty while it has said none
}

export const isSamePlace = (a: PhotoOf, b: PhotoOf): boolean =>
  (a.kind === 'bike'
    ? b.kind === 'bike' && a.order === b.order && a.about === b.about
    : b.kind === 'goods' && a.line === b.line && a.claim === b.claim);

function isPhotoOf(value: unknown): value is PhotoOf {
  const of = value as (Partial<Record<string, unknown>>) | null | undefined;
  if (typeof of !== 'object' || of === null) return false;
  if (of['kind'] === 'bike') return ['order', 'about', 'who'].every((name) => typeof of[name] === 'string');
  return of['kind'] === 'goods' && typeof of['line'] === 'string' && typeof of['claim'] === 'number';
}

/** A photograph as it was kept; undefined for what is none. It has not been sent from this page yet. */
export function photoIn(value: unknown): WaitingPhoto | undefined {
  const photo = value as Partial<WaitingPhoto> | null | undefined;
  if (typeof photo !== 'object' || photo === null) return undefined;
  const { key, of, by, at, bytes, refused } = photo;
  const isWhole = typeof key === 'string' && key !== '' && isPhotoOf(of) && typeof by === 'string' && typeof at === 'string' &&
    bytes instanceof ArrayBuffer && typeof refused === 'string';
  return isWhole ? { key, of, by, at, bytes, isWaiting: refused === '', isKept: true, refused } : undefined;
}
