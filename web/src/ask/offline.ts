import { createStore } from '../frame/store';
import { edition, renewed } from './edition';
import { onConnection } from './events';

/** Whether these pages can be loaded again while the server is not reached. */
export type Offline =
  | 'ready'
  | 'not yet'     // their files are being fetched
  | 'plain http'  // browsers keep pages only of this machine itself and of https
  | 'never';      // this browser does not keep them

export const offline = createStore<Offline>('not yet');

/** Has the worker hold the files of the pages (worker/worker.ts), and fetch those of a newer edition. */
export async function openOffline() {
  if (!isSecureContext) return offline.set('plain http');
  if (edition === '' || !('serviceWorker' in navigator)) return offline.set('never');
  if (navigator.serviceWorker.controller) offline.set('ready');  // it has handed out this page
  try {
    const registration = await navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' });
    const look = () => registration.update().catch(() => undefined);  // the server may be gone again
    onConnection((connected) => { if (connected) void look(); });
    renewed.listen(() => void look());
    await navigator.serviceWorker.ready;
    offline.set('ready');
  } catch {
    if (!navigator.serviceWorker.controller) offline.set('never');
  }
}
