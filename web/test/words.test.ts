import { describe, expect, it } from 'vitest';
import { massDifference, minutes, money, moneyDifference, plain } from '../src/words/amount';
import { dayInWords, dayNumber, dayShort } from '../src/words/day';
import { limitShown, targetShown } from '../src/words/limit';
import { inUnit, usUnitOf } from '../src/words/unit';

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

describe('units at the bench', () => {
  // NIST SP 811 (2008), appendix B.8: 1 lbf·in = 0.1129848 N·m, 1 psi = 6894.757 Pa, 1 lbf = 4.448222 N.
  it('agrees with the NIST table', () => {
    expect(inUnit(0.1129848, 'in-lb')).toBeCloseTo(1, 6);
    expect(inUnit(0.06894757, 'psi')).toBeCloseTo(1, 6);
    expect(inUnit(4.448222, 'lbf')).toBeCloseTo(1, 6);
    expect(usUnitOf('%')).toBe('');
  });
  it('shows a torque and its limits in both habits', () => {
    const limit = { least: 5, most: 6, source: 'printed on the stem' };
    const value = {
      reading: 's1', name: 'stem', dimension: 'torque', unit: 'N·m', pass_or_fail: false, stop: true, target: 5,
      strictest: limit, limits: [limit], how: '', count: 1,
    };
    expect(tidy(targetShown(value)?.metric ?? '')).toBe('5 N·m');
    expect(tidy(targetShown(value)?.us ?? '')).toBe('44 in-lb');
    expect(tidy(limitShown(limit, 'N·m').us)).toBe('44 in-lb to 53 in-lb');
    expect(targetShown({ ...value, target: null })).toBeUndefined();
  });
});
