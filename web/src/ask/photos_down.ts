import { createStore } from '../frame/store';
import { Refusal } from './ask';
import { momentNow } from './clock';
import { onConnection } from './events';
import { newKey } from './waiting_writes';
import { isJudged } from './write_down';

/**
 * Photographs on their way to the server. They wait in this page's memory, not in the browser's
 * store, which is too small for them: whoever would leave the page is asked first.
 */
export interface WaitingPhoto {
  key: string;      // the server writes the same key once, however often it is sent
  place: string;    // to what it belongs, for the page that shows it
  isWaiting: boolean;  // the server was not reached
  refused: string;  // the server's sentence against it
  send: () => Promise<unknown>;
}

export const waitingPhotos = createStore<WaitingPhoto[]>([]);

const kAgain = 5000;  // milliseconds
const sending = new Set<string>();
let timer: ReturnType<typeof setTimeout> | undefined;

const others = (key: string) => waitingPhotos.get().filter((photo) => photo.key !== key);
const put = (photo: WaitingPhoto) => {
  const all = waitingPhotos.get();
  waitingPhotos.set(all.some(({ key }) => key === photo.key)
    ? all.map((one) => (one.key === photo.key ? photo : one))
    : [...all, photo]);
};

async function send(photo: WaitingPhoto) {
  if (sending.has(photo.key)) return;
  sending.add(photo.key);
  try {
    await photo.send();
    waitingPhotos.set(others(photo.key));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const refused = isJudged(error);
    put({ ...photo, isWaiting: !refused, refused: refused ? error.view.sentence : '' });
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
  for (const photo of waitingPhotos.get()) if (photo.isWaiting) void send(photo);
}

/** `how` sends it under its key, with the moment at which it was taken. */
export function takePhoto(place: string, how: (key: string, at: string) => Promise<unknown>) {
  const key = newKey();
  const at = momentNow();
  const photo: WaitingPhoto = { key, place, isWaiting: false, refused: '', send: () => how(key, at) };
  put(photo);
  void send(photo);
}

export const forgetPhoto = (key: string) => waitingPhotos.set(others(key));

export function openPhotos() {
  onConnection((connected) => { if (connected) sendPhotos(); });
  addEventListener('online', sendPhotos);
  addEventListener('beforeunload', (event) => {
    if (waitingPhotos.get().some((photo) => !photo.refused)) event.preventDefault();
  });
}
