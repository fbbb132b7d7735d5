import { describe, expect, it } from 'vitest';
import type { ArrivalLine } from '../ask/ask';
import { goodOf, lineMatches, receivedOf, serialsOf } from './arrival_filter';

const line = { id: 'P-7', part: 'FR-1', name: 'Frame, steel', supplier_name: 'Far Works', orders: ['2041 Ada Rider'] } as ArrivalLine;
const none = { quantity: 0, to_look_at: 0, wrong: 0, damaged: 0, hidden: 0, missing: 0 };

describe('arrivals', () => {
  it('are narrowed by words that may stand anywhere', () => {
    expect(lineMatches(line, '')).toBe(true);
    expect(lineMatches(line, 'ADA steel')).toBe(true);
    expect(lineMatches(line, 'p-7')).toBe(true);
    expect(lineMatches(line, 'steel hub')).toBe(false);
  });
  it('leave what is not good out of what goes to the shelf', () => {
    expect(goodOf({ ...none, quantity: 7, wrong: 1, damaged: 1, hidden: 1, to_look_at: 2 })).toBe(2);
    expect(goodOf({ ...none, quantity: 1, wrong: 2 })).toBe(0);
  });
  it('take numbers as a scanner types them', () => {
    expect(serialsOf(' A1\nA2\r\n\n A3 ')).toEqual(['A1', 'A2', 'A3']);
    expect(receivedOf({ ...none, quantity: 1 }, { serials: 'A1\n', lot: ' L7 ', carrier: '', note: '' }))
      .toMatchObject({ quantity: 1, serials: ['A1'], lot: 'L7' });
  });
});
