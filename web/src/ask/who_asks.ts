import { createStore } from '../frame/store';
import type { MeView } from './ask';

/** Who asks, as far as the pages know; undefined while they do not. */
export const whoAsks = createStore<MeView | undefined>(undefined);

/** Whether the server takes from here what is signed with this person's name. */
export function isHere(person: string): boolean {
  const me = whoAsks.get();
  return me !== undefined && (me.open || (person !== '' && me.person === person));
}
