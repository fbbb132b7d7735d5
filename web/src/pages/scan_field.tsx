import { useEffect, useRef, useState } from 'preact/hooks';
import { bench } from '../words/bench';

const t = bench.scan;

const typesText = (target: EventTarget | null) =>
  target instanceof HTMLElement && (target.isContentEditable || ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName));

/**
 * Takes what a scanner types, wherever the page was touched last: the first letter brings the focus
 * here, Enter ends the code. Digits go to a reading while one is open.
 */
function useFocusOnKeys(codes: { current: HTMLInputElement | null }) {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.altKey || event.metaKey || typesText(event.target)) return;
      if (event.key.length !== 1 || event.key === ' ' || event.key === '/') return;
      const reading = document.querySelector<HTMLInputElement>('[data-takes-digits]');
      const field = reading && /[0-9.,-]/.test(event.key) ? reading : codes.current;
      field?.focus({ preventScroll: true });
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, []);
}

export function ScanField({ said, onCode }: { said: string; onCode: (text: string) => void }) {
  const field = useRef<HTMLInputElement>(null);
  const [text, setText] = useState('');
  useFocusOnKeys(field);
  const submit = (event: Event) => {
    event.preventDefault();
    const code = text.trim();
    setText('');
    if (!code) return;
    field.current?.blur();
    onCode(code);
  };
  return (
    <form class="scan" onSubmit={submit}>
      <label><span>{t.label}</span>
        <input ref={field} type="text" inputMode="none" autocomplete="off" autocapitalize="characters" spellcheck={false} data-takes-codes value={text}
          onClick={(event) => { event.currentTarget.inputMode = 'text'; event.currentTarget.focus(); }} onBlur={(event) => { event.currentTarget.inputMode = 'none'; }}
          onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      {text && <button type="submit" class="big-do">{t.button}</button>}
      <p class="scan-said" role="status">{said}</p>
    </form>
  );
}
