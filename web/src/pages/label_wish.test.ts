import { describe, expect, it } from 'vitest';
import { type LabelWish, listed, queryText, questionOf, withOrWithout } from './label_wish';

const none: LabelWish = {
  orders: [], kinds: ['order', 'kit', 'wheel'], rider: false, parts: [], shelf: false, people: [], tools: false, sheet: 'a4-3x8', from: 1,
};

describe('the question for labels', () => {
  it('asks for no labels when nothing is chosen', () => {
    expect(questionOf(none)).toEqual({ sheet: 'a4-3x8' });
    expect(questionOf({ ...none, rider: true })).toEqual({ sheet: 'a4-3x8' });
  });
  it('leaves orders out when none of their labels is wanted', () => {
    expect(questionOf({ ...none, orders: ['2041'], kinds: [] })).toEqual({ sheet: 'a4-3x8' });
  });
  it('names what is chosen, and the rider only when asked to', () => {
    expect(questionOf({ ...none, orders: ['2041', '2003'], kinds: ['wheel'], people: ['mara'], from: 5 }))
      .toEqual({ sheet: 'a4-3x8', kinds: 'wheel,person', orders: '2041,2003', people: 'mara', from: 5 });
    expect(questionOf({ ...none, orders: ['2041'], rider: true }).rider).toBe('yes');
  });
  it('means every part on the shelf, whatever else was typed', () => {
    const asked = questionOf({ ...none, parts: ['HB-0412'], shelf: true });
    expect(asked.kinds).toBe('bin');
    expect(asked.parts).toBeUndefined();
  });
  it('asks for every tool when they are ticked', () => {
    expect(questionOf({ ...none, tools: true }).kinds).toBe('tool');
  });
  it('reads numbers however they are parted', () => {
    expect(listed(' HB-0412, RM-0007;TY-0001\n')).toEqual(['HB-0412', 'RM-0007', 'TY-0001']);
    expect(listed('  ')).toEqual([]);
  });
  it('takes in and out', () => {
    expect(withOrWithout(['a'], 'b')).toEqual(['a', 'b']);
    expect(withOrWithout(['a', 'b'], 'a')).toEqual(['b']);
  });
  it('is written after the question mark', () => {
    expect(queryText({ sheet: 'a4-3x8', from: 2 })).toBe('sheet=a4-3x8&from=2');
  });
});
