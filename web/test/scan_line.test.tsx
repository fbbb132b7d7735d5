// @vitest-environment happy-dom
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ScanField } from '../src/pages/scan_field';
import { endScan, lineWith, scanLine, useScanner } from '../src/pages/scan_line';
import { checkCharacter, scannedIn } from '../src/pages/scanned';

const kBike = `RW:O:2016:${checkCharacter('O2016')}`;

let root: HTMLElement;
let taken: string[];

/** A page of the bench; `of` is what it shows, nothing while it waits for its answer. */
function Page({ of }: { of: string | undefined }) {
  useScanner();
  return of === undefined ? <p>waits</p> : (
    <div>
      <ScanField key={of} said="" onCode={(code) => taken.push(`${of}: ${code}`)} onLate={() => taken.push(`${of}: too late`)} />
      <input class="other" />
      <button type="button" onClick={() => taken.push('pressed')}>Done</button>
    </div>
  );
}

const show = (of: string | undefined) => act(() => { render(<Page of={of} />, root); });

function key(name: string, at: EventTarget = document.body) {
  const event = new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true });
  act(() => { at.dispatchEvent(event); });
  return event;
}

const type = (words: string, at?: EventTarget) => { for (const one of words) key(one, at); };
const field = () => document.querySelector<HTMLInputElement>('[data-takes-codes]');

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['Date'] });
  taken = [];
  root = document.createElement('div');
  document.body.append(root);
});

afterEach(() => {
  act(() => { render(null, root); });
  root.remove();
  scanLine.set('');
  vi.useRealTimers();
});

describe('a scanner in a hurry', () => {
  it('is heard wherever the page was touched, and its letters are shown', () => {
    show('bench');
    type('RW:O');
    expect(field()?.value).toBe('RW:O');
    type(kBike.slice(4));
    key('Enter');
    expect(taken).toEqual([`bench: ${kBike}`]);
    expect(field()?.value).toBe('');
  });

  it('loses no letter while one page makes room for the next', () => {
    show('bench');
    type(kBike.slice(0, 3));
    show(undefined);
    type(kBike.slice(3, 6));
    show('bike');
    expect(field()?.value).toBe(kBike.slice(0, 6));
    type(kBike.slice(6));
    key('Enter');
    expect(taken).toEqual([`bike: ${kBike}`]);
    expect(scannedIn(taken[0]?.slice(6) ?? '')).toEqual({ kind: 'order', id: '2016' });
  });

  it('that is done before the next page is there reaches that page', () => {
    show(undefined);
    type(kBike);
    key('Enter');
    show('bike');
    expect(taken).toEqual([`bike: ${kBike}`]);
  });

  it('is asked to scan again when that page comes much later', () => {
    show(undefined);
    type(kBike);
    key('Enter');
    vi.setSystemTime(Date.now() + 60_000);
    show('bike');
    expect(taken).toEqual(['bike: too late']);
  });

  it('presses no button on which the page was touched last', () => {
    show('bench');
    type('FR-77', document.querySelector('button') as Element);
    expect(key(' ', document.querySelector('button') as Element).defaultPrevented).toBe(true);
    expect(key('Enter', document.querySelector('button') as Element).defaultPrevented).toBe(true);
    expect(taken).toEqual(['bench: FR-77']);
  });

  it('is badly read when a letter is missing', () => {
    expect(scannedIn(kBike.replace('2016', '016'))).toEqual({ kind: 'mistyped' });
  });
});

describe('a person', () => {
  it('may take their time over a code, in the field or beside it', () => {
    show('bench');
    type('FR');
    vi.setSystemTime(Date.now() + 600_000);
    type('-7x');
    key('Backspace');
    const shown = field();
    if (shown) shown.value += '7/2016';
    act(() => { shown?.dispatchEvent(new Event('input', { bubbles: true })); });
    act(() => { shown?.form?.dispatchEvent(new Event('submit', { bubbles: true, cancelable: true })); });
    expect(taken).toEqual(['bench: FR-77/2016']);
  });

  it('types into other fields undisturbed', () => {
    show('bench');
    type('words', document.querySelector('.other') as Element);
    expect(key('Enter', document.querySelector('.other') as Element).defaultPrevented).toBe(false);
    expect(scanLine.get()).toBe('');
    expect(taken).toEqual([]);
  });

  it('presses a button with Enter and space, and finds with a slash, while nothing is scanned', () => {
    show('bench');
    for (const name of ['Enter', ' ', '/', 'Backspace', 'Tab']) expect(key(name).defaultPrevented).toBe(false);
  });

  it('is left alone once the bench is left', () => {
    show('bench');
    act(() => { render(null, root); });
    type('RW');
    expect(scanLine.get()).toBe('');
  });
});

it('a code is letters, a space or slash only within it, and Enter alone ends none', () => {
  expect(lineWith('', 'R')).toBe('R');
  expect(lineWith('', '/')).toBeUndefined();
  expect(lineWith('FR', '/')).toBe('FR/');
  expect(lineWith('FR', 'Shift')).toBeUndefined();
  expect(lineWith('FR', 'Backspace')).toBe('F');
  endScan();
  expect(taken).toEqual([]);
});
