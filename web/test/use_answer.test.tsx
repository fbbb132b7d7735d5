// @vitest-environment happy-dom
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ask, type Changed, type PromiseView } from '../src/ask/ask';
import { type Answered, concernsOrder, forgetAnswers, useAnswer } from '../src/ask/use_answer';
import { usePromise } from '../src/pages/promise_panel';

const { listeners } = vi.hoisted(() => ({ listeners: new Set<(changed: Changed | 'everything') => void>() }));
vi.mock('../src/ask/events', () => ({
  onChanged: (listener: (changed: Changed | 'everything') => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  onConnection: () => () => undefined,
  isConnected: () => true,
}));

let root: HTMLElement;

const settle = () => act(async () => { await vi.advanceTimersByTimeAsync(1000); });
const tell = (changed: Changed | 'everything') => { for (const listener of [...listeners]) listener(changed); };

beforeEach(() => {
  vi.useFakeTimers();
  forgetAnswers();
  root = document.createElement('div');
  document.body.append(root);
});

afterEach(() => {
  act(() => { render(null, root); });
  root.remove();
  vi.restoreAllMocks();
  vi.useRealTimers();
});

describe('an answer', () => {
  const answers: ((value: string) => void)[] = [];
  let shown: Answered<string>;

  function Page() {
    shown = useAnswer('page', () => new Promise<string>((resolve) => { answers.push(resolve); }), concernsOrder('7'));
    return <p>{shown.value}</p>;
  }
  const answer = (n: number, value: string) => act(async () => { answers[n]?.(value); });

  beforeEach(async () => {
    answers.length = 0;
    act(() => { render(<Page />, root); });
    await settle();
  });

  it('is shown though something changed meanwhile, which is asked once more then', async () => {
    for (let change = 0; change < 3; ++change) {
      tell({ order: '7', what: 'written' });
      await settle();
    }
    expect(answers.length).toBe(1);
    await answer(0, 'first');
    expect(root.textContent).toBe('first');
    expect(answers.length).toBe(2);
    await answer(1, 'second');
    expect(root.textContent).toBe('second');
    expect(shown.heard).toBe(2);
  });

  it('that comes after a newer one is thrown away', async () => {
    await act(async () => { await vi.advanceTimersByTimeAsync(10_000); });  // the first may never come
    tell('everything');
    await settle();
    await answer(1, 'second');
    await answer(0, 'first');
    expect(root.textContent).toBe('second');
  });

  it('that was asked for before a write came back is thrown away', async () => {
    act(() => { shown.put('written'); });
    await answer(0, 'first');
    expect(root.textContent).toBe('written');
  });
});

describe('the odds of an order', () => {
  let odds: ReturnType<typeof usePromise>;

  function Odds({ none, heard }: { none: string; heard: number }) {
    odds = usePromise('7', none, heard);
    return null;
  }
  const show = async (none: string, heard: number) => {
    act(() => { render(<Odds none={none} heard={heard} />, root); });
    await settle();
  };
  const asked = () => vi.mocked(ask.promise).mock.calls.length;

  beforeEach(() => { vi.spyOn(ask, 'promise').mockResolvedValue({ sentence: 'soon' } as PromiseView); });

  it('are not asked for while the order is only shown from an earlier visit', async () => {
    await show('', 0);
    expect(asked()).toBe(0);
    await show('', 1);
    expect(asked()).toBe(1);
    expect(odds.value?.sentence).toBe('soon');
  });

  it('are asked for anew with the answer about the order, not with the event before it', async () => {
    await show('', 1);
    tell({ order: '7', what: 'written' });
    tell('everything');
    await settle();
    expect(asked()).toBe(1);
    await show('', 2);
    expect(asked()).toBe(2);
  });

  it('are not asked for, and not shown, once the order says that there are none', async () => {
    await show('', 1);
    await show('Order 7 has no operation left to do.', 2);
    expect(asked()).toBe(1);
    expect(odds.value).toBeUndefined();
  });
});
