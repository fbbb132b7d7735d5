import { useEffect, useRef, useState } from 'preact/hooks';

/** Whether the element has come into sight once; what costs time is asked for only then. */
export function useSeen<E extends Element>() {
  const ref = useRef<E>(null);
  const [seen, setSeen] = useState(false);
  useEffect(() => {
    const element = ref.current;
    if (!element || seen) return undefined;
    const watcher = new IntersectionObserver((entries) => {
      if (entries.some((entry) => entry.isIntersecting)) setSeen(true);
    });
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [seen]);
  return { ref, seen };
}
