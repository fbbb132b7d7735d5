import { createStore } from '../frame/store';
import { ask, type DeedGiven, Refusal } from './ask';
import { momentNow } from './clock';
import { isConnected, onConnection } from './events';
import {
  inOrder, type Landed, newKey, nextMoment, notReached, notTaken, notYetSeen, onceMore, placeForNext, textOf, toSend, unreadable, waitsBehind, type Write, writeIn,
} from './waiting_writes';
import { isHere, whoAsks } from './who_asks';

/**
 * What people at the bench write down, on its way to the server. Each write is kept in the browser
 * by itself, so that two windows of one tablet take nothing from one another, and goes away only
 * when the server has written it or a person throws it away. It is sent while its person is here.
 */
const kPrefix = 'rollwright.write.';
const kAnswerDeadline = 12_000;  // milliseconds

export const writes = createStore<Write[]>([]);
/** What the server wrote and no page has seen in the record yet. */
export const landed = createStore<Landed[]>([]);
/** Whether the last try reached the server. */
export const reached = createStore(true);
/** Whether this browser keeps what waits; if not, the page must not be left. */
export const keeps = createStore(true);

export type Taken = { how: 'written' | 'waiting' } | { how: 'refused'; sentence: string };

const sending = new Set<string>();
const asking = new Map<string, (taken: Taken) => void>();  // writes whose person waits for the first answer
const listeners = new Set<(order: string) => void>();
let timer: ReturnType<typeof setTimeout> | undefined;

/** Told each time something was written to a bike from here: how it is then has to be asked. */
export function onWritten(listener: (order: string) => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** A page has the record of this bike up to this line. */
export function seenUpTo(order: string, last: number) {
  const left = notYetSeen(landed.get(), order, last);
  if (left.length < landed.get().length) landed.set(left);
}

function keep(write: Write) {
  try {
    localStorage.setItem(kPrefix + write.key, textOf(write));
  } catch {
    keeps.set(false);
  }
}

function forget(key: string) {
  try {
    localStorage.removeItem(kPrefix + key);
  } catch {
    // Nothing was kept then.
  }
}

function put(write: Write) {
  keep(write);
  writes.set(inOrder([...writes.get().filter((one) => one.key !== write.key), write]));
}

function drop(key: string) {
  forget(key);
  writes.set(writes.get().filter((one) => one.key !== key));
}

/** What is kept in this browser, by whichever window. */
function readKept(): Write[] {
  const found: Write[] = [];
  try {
    for (let i = 0; i < localStorage.length; i += 1) {
      const name = localStorage.key(i) ?? '';
      if (!name.startsWith(kPrefix)) continue;
      const text = localStorage.getItem(name) ?? '';
      found.push(writeIn(text) ?? unreadable(name.slice(kPrefix.length), text));
    }
  } catch {
    keeps.set(false);
  }
  return inOrder(found);
}

function settle(key: string, taken: Taken) {
  asking.get(key)?.(taken);
  asking.delete(key);
}

/** Not of the write itself: nobody is signed in, the network was slow, too many tries, older pages. */
const kNotOfTheWrite = [401, 408, 412, 429];

/** Whether the server has judged it: then sending it again as it is changes nothing. */
export const isJudged = (refusal: Refusal) => refusal.reached && refusal.status >= 400 && refusal.status < 500 &&
  !kNotOfTheWrite.includes(refusal.status);

function failed(write: Write, refusal: Refusal) {
  reached.set(refusal.reached && refusal.status < 500);
  if (!isJudged(refusal)) {
    put(notReached(write, Date.now()));
    settle(write.key, { how: 'waiting' });
  } else if (asking.has(write.key)) {
    drop(write.key);  // whoever did it stands before the page and reads the sentence
    settle(write.key, { how: 'refused', sentence: refusal.view.sentence });
  } else {
    put(notTaken(write, refusal.view.sentence));
  }
}

async function send(write: Write) {
  sending.add(write.key);
  try {
    const { who, key, deeds } = write;
    const written = await ask.writeRecord(write.order, { who, key, deeds }, AbortSignal.timeout(kAnswerDeadline));
    reached.set(true);
    landed.set([...landed.get(), { write, last: written.last }]);
    drop(key);
    for (const listener of listeners) listener(write.order);
    settle(key, { how: 'written' });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    failed(write, error);
  } finally {
    sending.delete(write.key);
    pump();
  }
}

function pump() {
  clearTimeout(timer);
  const now = Date.now();
  for (const write of toSend(writes.get(), now, isHere)) {
    if (!sending.has(write.key)) void send(write);
  }
  const next = nextMoment(writes.get().filter((write) => !sending.has(write.key)), isHere);
  if (next !== undefined && next > now) timer = setTimeout(pump, next - now);
}

/** The server may be back: whatever waits for it is tried now. */
export function tryNow() {
  for (const write of writes.get()) {
    if (write.refused === '' && write.after > 0 && !sending.has(write.key)) put({ ...write, after: 0 });
  }
  pump();
}

export interface ToWrite {
  order: string;
  who: string;
  words: string;
  deeds: DeedGiven[];
}

/** Writes down what was done: comes back once the server has answered, or it is clear that it waits. */
export function writeDown({ order, who, words, deeds }: ToWrite): Promise<Taken> {
  const now = Date.now();
  const at = momentNow(now);
  const timed = deeds.map((deed) => (at === '' ? deed : { at, ...deed }));
  const write: Write = { key: newKey(), order, who, words, deeds: timed, made: placeForNext(writes.get(), now), tries: 0, after: 0, refused: '' };
  put(write);
  const mustWait = !isConnected() || waitsBehind(write, writes.get(), isHere) !== undefined;
  if (mustWait) {
    pump();
    return Promise.resolve({ how: 'waiting' });
  }
  const taken = new Promise<Taken>((resolve) => { asking.set(write.key, resolve); });
  pump();
  return taken;
}

export function tryAgain(key: string) {
  const write = writes.get().find((one) => one.key === key);
  if (write) put(onceMore(write));
  pump();
}

export function throwAway(key: string) {
  drop(key);
  pump();
}

/** Takes up what was kept from before, and listens for the server and for other windows. */
export function openWrites() {
  writes.set(readKept());
  onConnection((connected) => {
    if (connected) tryNow();
  });
  whoAsks.listen(tryNow);
  addEventListener('online', tryNow);
  addEventListener('storage', (event) => {
    if (keeps.get() && (event.key === null || event.key.startsWith(kPrefix))) writes.set(readKept());
  });
  addEventListener('beforeunload', (event) => {
    if (!keeps.get() && writes.get().length > 0) event.preventDefault();
  });
  pump();
}
