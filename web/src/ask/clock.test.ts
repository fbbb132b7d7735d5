import { expect, it } from 'vitest';
import { hearClock, momentNow } from './clock';

it('tells no moment before the shop’s clock was heard, then goes on by it', () => {
  const mine = Date.parse('2020-01-01T00:00:00Z');
  hearClock(null, mine);
  hearClock('soon', mine);
  expect(momentNow(mine)).toBe('');
  hearClock('Wed, 25 Nov 2026 07:45:00 GMT', mine);
  expect(momentNow(mine + 90_000)).toBe('2026-11-25T07:46:30Z');
  hearClock(null, mine + 90_000);
  expect(momentNow(mine + 90_000)).toBe('2026-11-25T07:46:30Z');
});
