import { isNobodyThere } from '../worker/ways';
import type { Changed, ImproveProgress } from './ask';

type Listener = (changed: Changed | 'everything') => void;

const listeners = new Set<Listener>();
const searches = new Set<(progress: ImproveProgress) => void>();
const watchers = new Set<(connected: boolean) => void>();
const turnedAway = new Set<() => void>();
let source: EventSource | undefined;
let connected = true;
let dropped = false;
let wanted = false;
let watchdog: ReturnType<typeof setInterval> | undefined;

const kLook = 20_000;  // milliseconds; a network may die without a word
const kAgain = 3000;

function tell(now: boolean) {
  if (connected === now) return;
  connected = now;
  for (const watcher of watchers) watcher(now);
}

/** The stream is given up, and a new one tried soon. */
function lost() {
  source?.close();
  source = undefined;
  dropped = true;
  tell(false);
  setTimeout(() => { if (wanted) openEvents(); }, kAgain);
}

/** A stream of a network that is gone stands for minutes; so the server is asked whether it is there. */
async function look() {
  if (!connected || source === undefined) return;
  try {
    const answer = await fetch('/api/health', { signal: AbortSignal.timeout(kLook / 2), headers: { 'X-Nobody-Is-There': '1' } });
    if (isNobodyThere(answer.status)) lost();
  } catch {
    if (source) lost();
  }
}

/**
 * Opens the one stream of events that all views share. After a break whatever happened meanwhile is
 * unknown, so everybody is told that everything may have changed.
 */
export function openEvents() {
  wanted = true;
  if (watchdog === undefined) {
    watchdog = setInterval(() => void look(), kLook);
    addEventListener('offline', look);
  }
  if (source) return;
  source = new EventSource('/api/events');
  source.addEventListener('open', () => {
    if (dropped) for (const listener of listeners) listener('everything');
    dropped = false;
    tell(true);
  });
  source.addEventListener('changed', (event: MessageEvent<string>) => {
    const changed = JSON.parse(event.data) as Changed;
    for (const listener of listeners) listener(changed);
  });
  source.addEventListener('plan', (event: MessageEvent<string>) => {
    const progress = JSON.parse(event.data) as ImproveProgress;
    for (const listener of searches) listener(progress);
  });
  source.addEventListener('error', () => {
    dropped = true;
    tell(false);
    // A closed stream does not come back by itself: the server answered, but not with events.
    if (source?.readyState === EventSource.CLOSED) {
      lost();
      for (const listener of turnedAway) listener();
    }
  });
}

/** While nobody is signed in there is nothing to be told. */
export function closeEvents() {
  wanted = false;
  clearInterval(watchdog);
  watchdog = undefined;
  removeEventListener('offline', look);
  source?.close();
  source = undefined;
  dropped = false;
  tell(true);
}

export function onChanged(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Told now and then while a better plan is being searched for. */
export function onSearch(listener: (progress: ImproveProgress) => void): () => void {
  searches.add(listener);
  return () => searches.delete(listener);
}

export function onConnection(watcher: (connected: boolean) => void): () => void {
  watchers.add(watcher);
  return () => watchers.delete(watcher);
}

/** Told when the server answers, but gives this page no events: who asks may have to sign in. */
export function onTurnedAway(listener: () => void): () => void {
  turnedAway.add(listener);
  return () => turnedAway.delete(listener);
}

export const isConnected = () => connected;
