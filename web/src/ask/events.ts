import type { Changed, ImproveProgress } from './ask';

type Listener = (changed: Changed | 'everything') => void;

const listeners = new Set<Listener>();
const searches = new Set<(progress: ImproveProgress) => void>();
const watchers = new Set<(connected: boolean) => void>();
let source: EventSource | undefined;
let connected = true;
let dropped = false;
let wanted = false;

function tell(now: boolean) {
  if (connected === now) return;
  connected = now;
  for (const watcher of watchers) watcher(now);
}

/**
 * Opens the one stream of events that all views share. After a break whatever happened meanwhile is
 * unknown, so everybody is told that everything may have changed.
 */
export function openEvents() {
  wanted = true;
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
    // A closed stream does not come back by itself; a new one is tried every three seconds.
    if (source?.readyState === EventSource.CLOSED) {
      source = undefined;
      setTimeout(() => { if (wanted) openEvents(); }, 3000);
    }
  });
}

/** While nobody is signed in there is nothing to be told. */
export function closeEvents() {
  wanted = false;
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

export const isConnected = () => connected;
