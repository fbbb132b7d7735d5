import { createStore } from '../frame/store';
import { ask, Refusal } from './ask';
import { momentNow } from './clock';
import { allOn, putOn, takeOff } from './cupboard';
import { onConnection } from './events';
import { photoIn, type PhotoOf, type WaitingPhoto } from './waiting_photos';
import { newKey } from './waiting_writes';
import { isHere, whoAsks } from './who_asks';
import { isJudged } from './write_down';

/**
 * Photographs on their way to the server. Each is kept in the browser's database, over a reload too,
 * until the server has it or a person throws it away; whoever took it has to be here for it to be sent.
 */
export const waitingPhotos = createStore<WaitingPhoto[]>([]);

const kAgain = 5000;  // milliseconds
const sending = new Set<string>();
let timer: ReturnType<typeof setTimeout> | undefined;

const others = (key: string) => waitingPhotos.get().filter((photo) => photo.key !== key);
const has = (key: string) => waitingPhotos.get().some((photo) => photo.key === key);
const put = (photo: WaitingPhoto) => waitingPhotos.set(has(photo.key)
  ? waitingPhotos.get().map((one) => (one.key === photo.key ? photo : one))
  : [...waitingPhotos.get(), photo]);

async function keep(photo: WaitingPhoto): Promise<boolean> {
  try {
    await putOn('photos', { ...photo, isKept: true });
    return true;
  } catch {
    return false;  // then it waits in this page, which must not be left
  }
}

async function drop(key: string) {
  waitingPhotos.set(others(key));
  try {
    await takeOff('photos', key);
  } catch {
    // It was not kept.
  }
}

function give({ of, key, at, bytes }: WaitingPhoto): Promise<unknown> {
  const file = new Blob([bytes]);
  if (of.kind === 'bike') return ask.photographBike(of.order, { who: of.who, about: of.about, key, at }, file);
  return ask.photographGoods(of.line, { claim: of.claim, at }, file);
}

async function send(photo: WaitingPhoto) {
  if (sending.has(photo.key)) return;
  sending.add(photo.key);
  try {
    await give(photo);
    await drop(photo.key);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const refused = isJudged(error);
    const now: WaitingPhoto = { ...photo, isWaiting: !refused, refused: refused ? error.view.sentence : '' };
    if (has(photo.key)) put({ ...now, isKept: await keep(now) });
    if (!refused) {
      clearTimeout(timer);
      timer = setTimeout(sendPhotos, kAgain);
    }
  } finally {
    sending.delete(photo.key);
  }
}

/** The server may be back: whatever waits for it is tried now. */
export function sendPhotos() {
  for (const photo of waitingPhotos.get()) if (photo.refused === '' && isHere(photo.by)) void send(photo);
}

/** Whoever is here takes one: it is kept first, then sent. */
export async function takePhoto(of: PhotoOf, file: Blob) {
  const at = momentNow();
  const by = of.kind === 'bike' ? of.who : whoAsks.get()?.person ?? '';
  const photo: WaitingPhoto = { key: newKey(), of, by, at, bytes: await file.arrayBuffer(), isWaiting: false, isKept: false, refused: '' };
  put(photo);
  const kept = { ...photo, isKept: await keep(photo) };
  if (!has(photo.key)) return;
  put(kept);
  if (kept.isKept) void navigator.storage?.persist?.();  // asked for, so that the browser clears it last
  void send(kept);
}

export const forgetPhoto = (key: string) => void drop(key);

async function takeUp() {
  try {
    const kept = (await allOn('photos')).map(photoIn).filter((photo) => photo !== undefined);
    waitingPhotos.set([...kept.filter((photo) => !has(photo.key)), ...waitingPhotos.get()]);
  } catch {
    // Nothing is kept in this browser.
  }
  sendPhotos();
}

export function openPhotos() {
  void takeUp();
  whoAsks.listen(sendPhotos);
  onConnection((connected) => { if (connected) sendPhotos(); });
  addEventListener('online', sendPhotos);
  addEventListener('beforeunload', (event) => {
    if (waitingPhotos.get().some((photo) => !photo.isKept && !photo.refused)) event.preventDefault();
  });
}
