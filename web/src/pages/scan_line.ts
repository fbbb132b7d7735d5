import { useLayoutEffect, useRef } from 'preact/hooks';
import { createStore } from '../frame/store';
import { typesText } from '../frame/types_text';

/** Whoever takes a code: the page that is shown when Enter comes. */
export interface ScanTarget {
  take: (code: string) => void;
  late: () => void;  // something was scanned too long before this page was there
}

/** What a scanner, or a person, has typed of a code so far. It belongs to no page: a scanner goes on typing while
 * one page makes room for the next. */
export const scanLine = createStore('');

/** Milliseconds after which what was typed is not meant for a page that comes only then. */
const kGoesOn = 10_000;

const targets: ScanTarget[] = [];
let typedAt = 0;
let whole: string[] = [];  // codes that were ended while nobody took them

/** The line with one more key; undefined when the key is none of a code's. */
export function lineWith(line: string, key: string): string | undefined {
  if (key === 'Backspace') return line && line.slice(0, -1);
  const begins = key !== ' ' && key !== '/';  // a space presses a button, a slash finds
  return key.length === 1 && (line || begins) ? line + key : undefined;
}

export function typeScan(line: string) {
  typedAt = Date.now();
  scanLine.set(line);
}

/** Enter: the code goes to the page that is there, or to the one that comes. */
export function endScan() {
  const code = scanLine.get().trim();
  scanLine.set('');
  if (!code) return;
  const target = targets.at(-1);
  if (target) target.take(code);
  else whole.push(code);
}

/** From now on codes go here, until the function that is given back is called. */
export function takeScans(target: ScanTarget): () => void {
  const waited = whole;
  whole = [];
  targets.push(target);
  if (Date.now() - typedAt <= kGoesOn) {
    for (const code of waited) target.take(code);
  } else {
    scanLine.set('');
    if (waited.length > 0) target.late();
  }
  return () => { targets.splice(targets.indexOf(target), 1); };
}

/** Keys typed into no field of their own. Digits go to a reading while one is open. */
function onKey(event: KeyboardEvent) {
  if (event.ctrlKey || event.altKey || event.metaKey || typesText(event.target)) return;
  const line = scanLine.get();
  if (event.key === 'Enter') {
    if (!line) return;
    event.preventDefault();
    return endScan();
  }
  const reading = document.querySelector<HTMLInputElement>('[data-takes-digits]');
  if (!line && reading && /^[0-9.,-]$/.test(event.key)) return reading.focus({ preventScroll: true });
  const next = lineWith(line, event.key);
  if (next === undefined || (!line && !next)) return undefined;
  event.preventDefault();
  return typeScan(next);
}

let listening = 0;

/** While a page of the bench is shown, also before what it shows is there: one listener for the whole document. */
export function useScanner() {
  useLayoutEffect(() => {
    listening += 1;
    if (listening === 1) addEventListener('keydown', onKey, { capture: true });
    return () => {
      listening -= 1;
      if (listening === 0) removeEventListener('keydown', onKey, { capture: true });
    };
  }, []);
}

/** The page takes codes from now on, as it is when each comes. */
export function useScanTarget(target: ScanTarget) {
  const now = useRef(target);
  now.current = target;
  useLayoutEffect(() => takeScans({ take: (code) => now.current.take(code), late: () => now.current.late() }), []);
}
