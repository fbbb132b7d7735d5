import type { Store } from '../frame/store';
import type { Touch } from './clash_places';

/** What a person points at in the specification, for the drawing to show. */
export interface Pointed {
  slot: string;      // whose piece is lit; empty for none
  touches: Touch[];  // what would meet where, were the part chosen that is pointed at
}

export type PointedStore = Store<Pointed>;

export const kNothingPointed: Pointed = { slot: '', touches: [] };
