import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { MeView } from '../ask/ask';

/** Who asks, and what to do when that becomes somebody else. */
export interface Me {
  view: MeView;
  become: (next: MeView, to?: string) => void;
}

const MeContext = createContext<Me | undefined>(undefined);
export const MeIs = MeContext.Provider;

export function useMe(): Me {
  const me = useContext(MeContext);
  if (!me) throw new Error('A page was drawn before it was known who asks.');
  return me;
}

/** Whether the pages may be shown: nobody has to sign in, or somebody has. */
export const isIn = (me: MeView) => me.open || me.person !== '';
export const isOwner = (me: MeView) => me.open || me.roles.includes('owner');
