import { createStore } from '../frame/store';

/** The file of the pages' script: its name holds a hash of what is in it. Empty while they are being written. */
const kScript = /^\/assets\/[^/]+\.js$/;
const path = new URL(import.meta.url).pathname;
export const edition = kScript.test(path) ? path : '';

/** Whether the server has pages of another edition than these: they have to be loaded again. */
export const renewed = createStore(false);

/** What the server says of its own edition with each answer; only loading the pages again helps. */
export function hearEdition(theirs: string | null) {
  if (edition !== '' && theirs !== null && theirs !== '' && theirs !== edition) renewed.set(true);
}
