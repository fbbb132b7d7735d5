import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { ShopView } from '../ask/ask';

const Shop = createContext<ShopView | undefined>(undefined);
export const ShopIs = Shop.Provider;

/** The shop that the pages belong to. Pages are only drawn once it is known. */
export function useShop(): ShopView {
  const shop = useContext(Shop);
  if (!shop) throw new Error('A page was drawn before its shop was known.');
  return shop;
}
