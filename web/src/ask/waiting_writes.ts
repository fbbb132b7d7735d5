import type { DeedGiven } from './ask';

/** What was done together at one bike by one person, on its way to the server. */
export interface Write {
  key: string;      // the server writes the same key once, however often it is sent
  order: string;
  who: string;      // id of the person
  words: string;    // what it was, for a person: "A-60, started"
  deeds: DeedGiven[];
  made: number;     // place among the writes of this tablet: older ones go first
  tries: number;    // so often the server was not reached
  after: number;    // not to be sent before this moment, in milliseconds
  refused: string;  // the server's sentence against it; empty while it has said none
}

/** What is written, until a page has seen the record up to its line. */
export interface Landed {
  write: Write;
  last: number;  // the record's last line then
}

/** What is left of these once the record of the order was seen up to this line. */
export const notYetSeen = (landed: Landed[], order: string, last: number): Landed[] =>
  landed.filter((one) => one.write.order !== order || one.last > last);

const kFirstWait = 1000;  // milliseconds
const kLongestWait = 30_000;

/** How long to wait after so many tries that reached nobody. */
export const waitAfter = (tries: number) => Math.min(kLongestWait, kFirstWait * 2 ** Math.max(0, tries - 1));

export const inOrder = (writes: Write[]): Write[] =>
  [...writes].sort((a, b) => a.made - b.made || a.key.localeCompare(b.key));

/** A place for the next write behind all others, also where the clock was put back. */
export const placeForNext = (writes: Write[], now: number) =>
  writes.reduce((latest, write) => Math.max(latest, write.made + 1), now);

const sharesAbout = (a: Write, b: Write) =>
  a.deeds.some((one) => one.about && b.deeds.some((other) => other.about === one.about));

const olderOf = (write: Write, writes: Write[]) => inOrder(writes).filter((other) =>
  other.order === write.order && other.key !== write.key &&
  (other.made < write.made || (other.made === write.made && other.key < write.key)));

/** Whether the server takes what is signed with this name: people sign in under their own. */
export type IsHere = (who: string) => boolean;
const kEverybody: IsHere = () => true;

/** Whether it is refused, its person is not here, or it is about the same as an older one of these. */
const needsAPerson = (write: Write, writes: Write[], isHere: IsHere): boolean => write.refused !== '' || !isHere(write.who) ||
  olderOf(write, writes).some((older) => sharesAbout(older, write) && needsAPerson(older, writes, isHere));

/**
 * What this write has to wait for: older ones of the same bike go first. Behind one that needs a
 * person only what is about the same operation, line or place waits.
 */
export function waitsBehind(write: Write, writes: Write[], isHere = kEverybody): Write | undefined {
  return olderOf(write, writes).find((older) => sharesAbout(older, write) || !needsAPerson(older, writes, isHere));
}

const canGo = (writes: Write[], isHere: IsHere) => inOrder(writes).filter((write) =>
  write.refused === '' && isHere(write.who) && !waitsBehind(write, writes, isHere));

/** At most one for each bike, the oldest that need not wait. */
export const toSend = (writes: Write[], now: number, isHere = kEverybody): Write[] =>
  canGo(writes, isHere).filter((write) => write.after <= now);

/** When something can be sent next, in milliseconds; undefined when only a person can go on. */
export function nextMoment(writes: Write[], isHere = kEverybody): number | undefined {
  const due = canGo(writes, isHere);
  return due.length === 0 ? undefined : Math.min(...due.map((write) => write.after));
}

export const notReached = (write: Write, now: number): Write =>
  ({ ...write, tries: write.tries + 1, after: now + waitAfter(write.tries + 1) });
export const notTaken = (write: Write, sentence: string): Write => ({ ...write, refused: sentence });
export const onceMore = (write: Write): Write => ({ ...write, refused: '', tries: 0, after: 0 });

export const waitingOf = (writes: Write[]) => writes.filter((write) => write.refused === '');
export const refusedOf = (writes: Write[]) => inOrder(writes).filter((write) => write.refused !== '');

const isWrite = (value: unknown): value is Write => {
  const write = value as Partial<Write> | null;
  return typeof write === 'object' && write !== null && typeof write.key === 'string' && write.key !== '' &&
    typeof write.order === 'string' && typeof write.who === 'string' && typeof write.words === 'string' &&
    Array.isArray(write.deeds) && write.deeds.length > 0 && typeof write.made === 'number' &&
    typeof write.tries === 'number' && typeof write.after === 'number' && typeof write.refused === 'string';
};

export const textOf = (write: Write) => JSON.stringify(write);

/** What was kept and is no write: it is shown, and only a person throws it away. */
export const unreadable = (key: string, text: string): Write =>
  ({ key, order: '', who: '', words: text.slice(0, 300), deeds: [], made: 0, tries: 0, after: 0, refused: 'this was kept by another edition of the pages and cannot be sent' });

/** A kept write; undefined for a text that is none. */
export function writeIn(text: string): Write | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return isWrite(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

/** A key of our own, also where the page is not served over a secure connection. */
export function newKey(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
