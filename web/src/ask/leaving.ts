import { ask, type MeView, Refusal } from './ask';
import { forgetCopies } from './copies';

/**
 * Signing out without the network: this browser forgets at once and shows nothing; the server, which
 * still knows the session, is told before anything else is asked of it.
 */
const kKey = 'rollwright.leaving';

export function isLeaving(): boolean {
  try {
    return localStorage.getItem(kKey) !== null;
  } catch {
    return false;
  }
}

function setLeaving(leaving: boolean) {
  try {
    if (leaving) localStorage.setItem(kKey, '1');
    else localStorage.removeItem(kKey);
  } catch {
    // A browser that keeps nothing has nothing to show after a reload.
  }
}

/** Nobody, at this browser. */
export const nobodyAt = (station: string): MeView => ({ open: false, person: '', name: '', roles: [], at: '', station });

/** Tells the server that whoever left is gone, if it was not told yet. */
export async function tellLeft(): Promise<void> {
  if (!isLeaving()) return;
  await ask.signOut();
  setLeaving(false);
}

export async function askWho(): Promise<MeView> {
  await tellLeft();
  return ask.me();
}

export async function leave(me: MeView): Promise<MeView> {
  forgetCopies();
  setLeaving(true);
  try {
    await tellLeft();
    return await ask.me();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return nobodyAt(me.station);
  }
}

export async function signIn(person: string, password: string): Promise<MeView> {
  await tellLeft();  // or whoever comes in would be signed out for the one who left
  return ask.signIn(person, password);
}

export async function benchSignIn(person: string, pin: string): Promise<MeView> {
  await tellLeft();
  return ask.benchSignIn(person, pin);
}
