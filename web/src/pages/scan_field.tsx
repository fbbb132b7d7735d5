import { useRef } from 'preact/hooks';
import { useStore } from '../frame/store';
import { bench } from '../words/bench';
import { endScan, scanLine, typeScan, useScanTarget } from './scan_line';

const t = bench.scan;

/** Shows what a scanner types, wherever the page was touched last, and takes what a person types here. */
export function ScanField({ said, onCode, onLate }: { said: string; onCode: (text: string) => void; onLate: () => void }) {
  const field = useRef<HTMLInputElement>(null);
  const text = useStore(scanLine);
  useScanTarget({ take: onCode, late: onLate });
  const submit = (event: Event) => {
    event.preventDefault();
    field.current?.blur();
    endScan();
  };
  return (
    <form class="scan" onSubmit={submit}>
      <label><span>{t.label}</span>
        <input ref={field} type="text" inputMode="none" autocomplete="off" autocapitalize="characters" spellcheck={false} data-takes-codes value={text}
          onClick={(event) => { event.currentTarget.inputMode = 'text'; event.currentTarget.focus(); }} onBlur={(event) => { event.currentTarget.inputMode = 'none'; }}
          onInput={(event) => typeScan(event.currentTarget.value)} />
      </label>
      {text && <button type="submit" class="big-do">{t.button}</button>}
      <p class="scan-said" role="status">{said}</p>
    </form>
  );
}
