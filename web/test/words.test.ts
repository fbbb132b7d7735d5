import { describe, expect, it } from 'vitest';
import { massDifference, minutes, money, moneyDifference, plain } from '../src/words/amount';
import { dayInWords, dayNumber, dayShort } from '../src/words/day';

const tidy = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');

describe('amounts', () => {
  it('groups thousands and keeps cents only where there are some', () => {
    expect(tidy(money(148000, 'EUR'))).toBe('1 480 €');
    expect(tidy(money(123456789, 'USD'))).toBe('1 234 567.89 $');
    expect(tidy(money(6250, 'SEK'))).toBe('62.50 SEK');
  });
  it('signs differences with a true minus', () => {
    expect(tidy(moneyDifference(-9500, 'EUR'))).toBe('− 95 €');
    expect(tidy(massDifference(-0.24))).toBe('− 240 g');
    expect(tidy(massDifference(1.25))).toBe('+ 1.25 kg');
    expect(plain(-3)).toBe('−3');
  });
  it('writes long work in hours', () => {
    expect(tidy(minutes(45))).toBe('45 min');
    expect(tidy(minutes(125))).toBe('2 h 5 min');
    expect(tidy(minutes(120))).toBe('2 h');
  });
});

describe('days', () => {
  it('writes the month as a word', () => {
    expect(dayInWords('2026-12-17')).toBe('Thursday 17 December');
    expect(tidy(dayShort('2026-12-09'))).toBe('9 Dec');
  });
  it('counts days across the leap day of 2028', () => {
    expect(dayNumber('2028-03-01') - dayNumber('2028-02-28')).toBe(2);
  });
});
