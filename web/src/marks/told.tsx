import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';

/**
 * A number that tells where it comes from when pointed at, touched or focused. Escape puts the
 * note away; the note can itself be pointed at without vanishing.
 */
export function Told({ children, how }: { children: ComponentChildren; how: string }) {
  const id = useId();
  const [open, setOpen] = useState(false);
  if (!how) return <>{children}</>;
  return (
    <span class="told" onMouseEnter={() => setOpen(true)} onMouseLeave={() => setOpen(false)}
      onKeyDown={(event) => event.key === 'Escape' && setOpen(false)}>
      <button type="button" class="told-value" aria-describedby={id}
        onFocus={() => setOpen(true)} onBlur={() => setOpen(false)} onClick={() => setOpen(true)}>
        {children}
      </button>
      <span id={id} role="tooltip" class={open ? 'told-note open' : 'told-note'}>{how}</span>
    </span>
  );
}
