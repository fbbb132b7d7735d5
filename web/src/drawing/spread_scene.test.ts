import { describe, expect, it } from 'vitest';
import { rulerFor, spreadAt } from './spread';

describe('the ruler of an arrival', () => {
  it('is five weeks, and longer for a line that needs it', () => {
    expect(rulerFor('2026-11-25', ['2026-12-04'])).toBe(35);
    expect(rulerFor('2026-11-25', ['2026-12-04', '2027-01-10'])).toBe(70);
    expect(rulerFor('2026-11-25', ['2028-01-10'])).toBe(140);
  });
  it('puts days to scale and keeps what lies beyond at its end', () => {
    expect(spreadAt('2026-11-25', '2026-11-25')).toBe(0);
    expect(spreadAt('2026-11-25', '2026-12-02')).toBeCloseTo(42);
    expect(spreadAt('2026-11-25', '2027-12-02')).toBe(210);
    expect(spreadAt('2026-11-25', '2026-11-01')).toBe(0);
  });
});
