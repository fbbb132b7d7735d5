import type { MeView } from './ask';
import { momentNow } from './clock';
import { allOn, clear, oneOn, putOn, takeOff } from './cupboard';
import { edition } from './edition';
import { mayShow } from './left_alone';
import { lastTouch, touched, touchNoted } from './touch';

/**
 * The last answers that the bench needs, for when the page is loaded again without the server. They
 * belong to whoever asked, go when that person goes, and are only shown as long as mayShow says.
 */
export interface Copy {
  key: string;
  of: string;       // whose they are
  edition: string;  // of the pages that asked
  value: unknown;
  at: string;       // by the shop's clock, as ISO text
  heard: number;    // by this browser's own, in milliseconds
}

const kMe = 'me';
const kBike = 'bench ';
const kSomebodyIsThere = 60_000;  // milliseconds since the last touch

/** Who asks, what the shop is, the bench and the bikes on it; nothing else is ever kept. */
export const isKept = (key: string) => [kMe, 'shop', 'bench'].includes(key) || key.startsWith(kBike);

const nameOf = (me: MeView) => (me.open ? 'everybody' : `${me.person} at the ${me.at}`);
const isIn = (me: MeView) => me.open || me.person !== '';

let of = '';  // whose copies are kept; empty: nobody's
const quietly = (deed: Promise<unknown>) => { deed.catch(() => undefined); };  // a browser that keeps nothing goes on without

/** Whoever was here is gone: what they saw is not kept. */
export function forgetCopies() {
  of = '';
  quietly(clear('answers'));
}

function hearMe(me: MeView) {
  const name = isIn(me) ? nameOf(me) : '';
  if (name !== of) quietly(clear('answers'));
  of = name;
  const now = Date.now();
  if (of !== '' && now - lastTouch() < kSomebodyIsThere) touched(now);  // as the server counts it
}

/** Bikes that are not at the bench any more are not kept. */
async function clearAway(list: unknown) {
  const orders = ((list as { bikes?: { order: string }[] }).bikes ?? []).map((bike) => kBike + bike.order);
  for (const copy of await allOn('answers')) {
    const { key } = copy as Copy;
    if (key.startsWith(kBike) && !orders.includes(key)) await takeOff('answers', key);
  }
}

/** The server has just said this. */
export function copyDown(key: string, value: unknown) {
  if (!isKept(key)) return;
  if (key === kMe) hearMe(value as MeView);
  if (of === '') return;
  const copy: Copy = { key, of, edition, value, at: momentNow(), heard: Date.now() };
  quietly(putOn('answers', copy));
  if (key === 'bench') quietly(clearAway(value));
}

const isCopy = (value: unknown): value is Copy => {
  const copy = value as Partial<Copy> | null | undefined;
  return typeof copy === 'object' && copy !== null && typeof copy.key === 'string' && typeof copy.of === 'string' &&
    typeof copy.edition === 'string' && typeof copy.at === 'string' && typeof copy.heard === 'number';
};

const copyUnder = async (key: string): Promise<Copy | undefined> => {
  const found = await oneOn('answers', key);
  return isCopy(found) && found.edition === edition ? found : undefined;
};

/** Whether what is kept may still be shown; if not, it is thrown away. */
async function mayBeShown(): Promise<Copy | undefined> {
  const me = await copyUnder(kMe);
  const view = me?.value as MeView | undefined;
  if (me && view && mayShow(view, me.heard, touchNoted(), Date.now())) return me;
  forgetCopies();
  return undefined;
}

/** What the server said last, when it may be shown; undefined otherwise. */
export async function copyOf(key: string): Promise<Copy | undefined> {
  if (!isKept(key)) return undefined;
  try {
    const me = await mayBeShown();
    if (!me) return undefined;
    if (key === kMe) of = me.of;  // who asks now is who asked then
    const copy = await copyUnder(key);
    return copy && copy.of === me.of && copy.of === of ? copy : undefined;
  } catch {
    return undefined;
  }
}

/** Without the server, for too long without anybody: what is kept is gone, and the page is to be left. */
export async function wasLeftAlone(): Promise<boolean> {
  try {
    return of !== '' && (await mayBeShown()) === undefined;
  } catch {
    return false;
  }
}
