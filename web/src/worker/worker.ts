import { isNobodyThere, wayOf } from './ways';

/**
 * Holds the files of the pages in the browser, so that a page can be loaded again while the shop's
 * server is not reached. Built into one file of its own, /sw.js (vite.config.ts).
 */
declare const self: ServiceWorkerGlobalScope;
declare const __EDITION__: string;   // a hash of all files
declare const __FILES__: string[];   // their paths; "/" is the start page

const kPrefix = 'rollwright-pages-';
const kShelf = kPrefix + __EDITION__;
const kPatience = 4000;  // milliseconds: a network that neither answers nor fails

self.addEventListener('install', (event) => {
  const fill = async () => {
    const shelf = await caches.open(kShelf);
    await shelf.addAll(__FILES__.map((file) => new Request(file, { cache: 'reload' })));
    await self.skipWaiting();
  };
  event.waitUntil(fill());
});

/** Only one edition is held. */
self.addEventListener('activate', (event) => {
  const clear = async () => {
    const shelves = (await caches.keys()).filter((name) => name.startsWith(kPrefix) && name !== kShelf);
    await Promise.all(shelves.map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(clear());
});

async function held(path: string): Promise<Response | undefined> {
  return (await caches.open(kShelf)).match(path, { ignoreVary: true });
}

/** The server's own answer whenever there is one: its edition may be a newer one. */
async function page(request: Request): Promise<Response> {
  const late = new Promise<undefined>((resolve) => { setTimeout(() => resolve(undefined), kPatience); });
  const asked = fetch(request).catch(() => undefined);
  const answer = await Promise.race([asked, late]);
  if (answer && !isNobodyThere(answer.status)) return answer;
  return (await held('/')) ?? answer ?? (await asked) ?? Response.error();
}

const file = async (request: Request): Promise<Response> => (await held(new URL(request.url).pathname)) ?? fetch(request);

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const way = wayOf(request, self.location.origin, __FILES__);
  if (way === 'page') event.respondWith(page(request));
  if (way === 'file') event.respondWith(file(request));
});
