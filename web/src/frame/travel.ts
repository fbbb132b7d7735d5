import { useEffect, useState } from 'preact/hooks';

const travellers = new Set<() => void>();
const here = () => location.pathname + location.search;

/** Goes to another page of the shop without asking the server for a document. */
export function go(path: string, replace = false) {
  if (path === here()) return;
  history[replace ? 'replaceState' : 'pushState'](null, '', path);
  for (const traveller of travellers) traveller();
  if (!replace) scrollTo(0, 0);
}

/** A plain click on a link to one of our own pages travels; everything else is the browser's. */
function onClick(event: MouseEvent) {
  if (event.defaultPrevented || event.button !== 0) return;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  const link = (event.target as Element).closest('a');
  if (!link || link.target || link.hasAttribute('download')) return;
  const to = new URL(link.href, location.href);
  if (to.origin !== location.origin || to.pathname.startsWith('/api/')) return;
  if (to.hash && to.pathname === location.pathname) return;
  event.preventDefault();
  go(to.pathname + to.search);
}

export function usePath(): string {
  const [path, setPath] = useState(here());
  useEffect(() => {
    const moved = () => setPath(here());
    travellers.add(moved);
    addEventListener('popstate', moved);
    document.addEventListener('click', onClick);
    return () => {
      travellers.delete(moved);
      removeEventListener('popstate', moved);
      document.removeEventListener('click', onClick);
    };
  }, []);
  return path;
}
