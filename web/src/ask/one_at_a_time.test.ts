import { expect, test, vi } from 'vitest';
import { oneAtATime } from './one_at_a_time';

/** A question whose answers come when the test says so. */
function asked() {
  const answers: (() => void)[] = [];
  const ask = oneAtATime(() => new Promise<void>((resolve) => { answers.push(resolve); }));
  const answer = async () => {
    answers[answers.length - 1]?.();
    await new Promise((soon) => { setTimeout(soon, 0); });
  };
  return { ask, answer, count: () => answers.length };
}

test('what is wanted often while an answer is on its way is asked once more', async () => {
  const { ask, answer, count } = asked();
  for (let change = 0; change < 50; change += 1) ask();
  expect(count()).toBe(1);
  await answer();
  expect(count()).toBe(2);
  await answer();
  expect(count()).toBe(2);
});

test('it is asked at once when no answer is on its way', async () => {
  const { ask, answer, count } = asked();
  ask();
  await answer();
  ask();
  expect(count()).toBe(2);
});

test('a question that is not to be asked now is no answer on its way', () => {
  let may = false;
  let count = 0;
  const ask = oneAtATime(() => {
    if (!may) return undefined;
    count += 1;
    return Promise.resolve();
  });
  ask();
  may = true;
  ask();
  expect(count).toBe(1);
});

test('an answer that never comes holds no other question up for long', () => {
  vi.useFakeTimers();
  let count = 0;
  const ask = oneAtATime(() => {
    count += 1;
    return new Promise(() => undefined);
  });
  ask();
  vi.advanceTimersByTime(9_000);
  ask();
  expect(count).toBe(1);
  vi.advanceTimersByTime(2_000);
  ask();
  expect(count).toBe(2);
  vi.useRealTimers();
});

test('a refusal ends the asking, too', async () => {
  let count = 0;
  const ask = oneAtATime(() => {
    count += 1;
    return Promise.reject(new Error('no')).catch(() => undefined);
  });
  ask();
  ask();
  await new Promise((soon) => { setTimeout(soon, 0); });
  expect(count).toBe(2);
});
