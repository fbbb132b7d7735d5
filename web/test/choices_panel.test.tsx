// @vitest-environment happy-dom
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ChoiceView, OrderView, ShopView, SlotChoicesView } from '../src/ask/ask';
import { ask } from '../src/ask/ask';
import { forgetAnswers } from '../src/ask/use_answer';
import { kNothingPointed } from '../src/drawing/pointed';
import { ShopIs } from '../src/frame/shop';
import { createStore } from '../src/frame/store';
import { ChoicesPanel, type SlotTools } from '../src/pages/choices_panel';
import { forgetClashes } from '../src/pages/clashes';

const kMany = 5000;

const one = (i: number): ChoiceView => ({
  part: {
    id: `HG-${i}`, name: `Hub ${i}`, maker: i % 2 ? 'Nordal' : 'Tarnholt', kind: 'K-HG',
    price_cents: 10000 + i, mass_kg: 2,
  },
  status: i % 10 === 9 ? 'closed' : 'open', chosen: i === 2000,
  note: i % 10 === 9 ? 'The holes differ.' : '', touches: i % 10 === 9 ? ['rear_rim'] : [],
  price_difference_cents: i % 10 === 9 ? null : i - 2000, mass_difference_kg: 0,
  ready_difference_days: 0, proven: true, here: '',
});

const slotOf = (choices: ChoiceView[]): SlotChoicesView =>
  ({ order: '1', slot: 'rear_hub', name: 'rear hub', may_be_empty: false, choices });

let root: HTMLElement;
let tools: SlotTools;

async function show(choices: ChoiceView[], more: Partial<SlotTools> = {}) {
  vi.spyOn(ask, 'choices').mockResolvedValue(slotOf(choices));
  tools = {
    view: { outline: { drawn: false } } as OrderView, order: '1', revision: 7, signed: false,
    busy: false, pointed: createStore(kNothingPointed), onTake: vi.fn(), onClose: vi.fn(), ...more,
  };
  const shop = { currency: 'EUR' } as ShopView;
  await act(async () => {
    render(
      <ShopIs value={shop}>
        <ChoicesPanel slot="rear_hub" filled tools={tools} />
      </ShopIs>, root);
  });
  await act(async () => { await Promise.resolve(); });
}

const rows = () => [...root.querySelectorAll<HTMLElement>('[role="option"]')];
const held = () => (document.activeElement as HTMLElement).dataset['part'];
const field = () => root.querySelector<HTMLInputElement>('.find-part')!;

async function press(key: string) {
  await act(async () => {
    document.activeElement!.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
  });
}

async function type(words: string) {
  await act(async () => {
    field().value = words;
    field().dispatchEvent(new Event('input', { bubbles: true }));
  });
}

beforeEach(() => {
  root = document.createElement('div');
  document.body.append(root);
});

afterEach(() => {
  render(null, root);
  root.remove();
  forgetAnswers();
  forgetClashes();
  vi.restoreAllMocks();
});

describe('an opened position with five thousand parts', () => {
  it('draws a few of them and begins at the chosen one', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(i)));
    expect(rows().length).toBeLessThan(40);
    expect(held()).toBe('HG-2000');
    const chosen = root.querySelector('[data-part="HG-2000"]')!;
    expect(chosen.getAttribute('aria-selected')).toBe('true');
    expect(chosen.getAttribute('aria-setsize')).toBe(String(kMany));
    expect(root.querySelector('.tells')!.textContent).toBe('5000 parts, 4500 open');
  });
  it('is walked with keys to both ends, and keeps the focus', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(i)));
    await press('Home');
    expect(held()).toBe('HG-0');
    await press('ArrowDown');
    expect(held()).toBe('HG-1');
    await press('PageDown');
    expect(Number(held()!.slice(3))).toBeGreaterThan(5);
    await press('End');
    expect(held()).toBe('HG-4999');  // closed ones stand last
    expect(rows().length).toBeLessThan(40);
  });
  it('chooses with Enter, and never a closed part', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(i)));
    await press('Home');
    await press('Enter');
    expect(tools.onTake).toHaveBeenCalledExactlyOnceWith({ rear_hub: 'HG-0' });
    const whyNot = vi.spyOn(ask, 'whyNot').mockResolvedValue({
      order: '1', slot: 'rear_hub', part: 'HG-4999', choices: ['rear rim: Rim, 32 holes'],
      rules: [{ rule: 'C-025', severity: 'FIT', verdict: 'does not fit', source: '',
        sentence: 'The holes differ.', slots: ['rear_hub', 'rear_rim'] }],
      opens: [{ price_difference_cents: -500, mass_difference_kg: 0.1, verdict: 'fits',
        sentence: 'Change the rear rim.', changes: [{ slot: 'rear_rim', slot_name: 'rear rim',
          from: 'R32', from_name: 'Rim, 32 holes', to: 'R36', to_name: 'Rim, 36 holes' }] }],
    });
    await press('End');
    await press('Enter');
    expect(tools.onTake).toHaveBeenCalledTimes(1);
    expect(whyNot).toHaveBeenCalledExactlyOnceWith('1', 'rear_hub', 'HG-4999');
    expect(root.querySelector('.clash')!.textContent).toContain('The holes differ.');
    const opening = root.querySelector<HTMLButtonElement>('.opens button')!;
    await act(async () => opening.click());
    expect(tools.onTake).toHaveBeenLastCalledWith({ rear_rim: 'R36', rear_hub: 'HG-4999' });
  });
  it('begins a search wherever something is typed, and narrows by several words', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(i)));
    await press('h');
    expect(document.activeElement).toBe(field());
    await type('hub 499 closed');
    expect(rows().map((row) => row.dataset['part'])).toEqual(
      ['HG-499', 'HG-1499', 'HG-2499', 'HG-3499', 'HG-4499', 'HG-4999']);
    await press('ArrowDown');
    expect(held()).toBe('HG-499');
    await act(async () => field().focus());
    await type('nothing like it');
    expect(root.querySelector('.tells')!.textContent).toContain('No part for this position');
    await press('Escape');
    expect(field().value).toBe('');
  });
  it('marks on the drawing what the part in hand would touch', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(i)));
    await press('End');
    expect(tools.pointed.get()).toEqual({ slot: 'rear_hub', touches: [
      { verdict: 'does not fit', sentence: 'The holes differ.', slots: ['rear_hub', 'rear_rim'] },
    ] });
    await press('Home');
    expect(tools.pointed.get().touches).toEqual([]);
  });
  it('sorts by what it is told, by price the cheapest first', async () => {
    await show(Array.from({ length: kMany }, (_, i) => one(kMany - 1 - i)));
    const radio = root.querySelectorAll<HTMLInputElement>('.sorts input')[1]!;
    await act(async () => radio.click());
    await act(async () => field().focus());
    await press('ArrowDown');
    await press('Home');
    expect(held()).toBe('HG-0');
  });
});

describe('what stands beside a part', () => {
  const words = (id: string) => root.querySelector(`[data-part="${id}"]`)!.textContent!
    .replace(/[\u00a0\u202f]/g, ' ');
  it('is what choosing it changes, and in words what is not known', async () => {
    await show([
      { ...one(1), price_difference_cents: 8500, mass_difference_kg: -0.24,
        ready_difference_days: -9 },
      { ...one(3), price_difference_cents: null, proven: false, status: 'not proven' },
      { ...one(5), mass_difference_kg: null, ready_difference_days: null },
    ]);
    expect(words('HG-1')).toMatch(/\+ 85 €− 240 g9 days sooner/);
    expect(words('HG-3')).toMatch(/not proven.*not proven/);
    expect(words('HG-5')).toMatch(/mass not known.*no day known/);
  });
  it('is only looked at once the order is signed', async () => {
    await show([one(1), one(2)], { signed: true });
    await press('Enter');
    expect(tools.onTake).not.toHaveBeenCalled();
    expect(root.textContent).toContain('The specification is signed');
  });
});
