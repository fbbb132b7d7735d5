import { useEffect, useState } from 'preact/hooks';

/** One value that several views look at; only those that use it are drawn again when it changes. */
export interface Store<T> {
  get: () => T;
  set: (value: T) => void;
  listen: (listener: () => void) => () => void;
}

export function createStore<T>(first: T): Store<T> {
  let value = first;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    set: (next) => {
      if (next === value) return;
      value = next;
      for (const listener of listeners) listener();
    },
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

export function useStore<T>(store: Store<T>): T {
  const [, redraw] = useState(0);
  const shown = store.get();
  useEffect(() => {
    const again = () => redraw((n) => n + 1);
    if (store.get() !== shown) again();  // it changed between drawing and listening
    return store.listen(again);
  }, [store]);
  return shown;
}
