import { describe, expect, it } from 'vitest';
import { mayShow } from './left_alone';

const kMinute = 60_000;
const kNow = 1_800_000_000_000;
const ago = (minutes: number) => kNow - minutes * kMinute;
const bench = { open: false, at: 'bench' };
const desk = { open: false, at: 'desk' };

describe('what was heard before', () => {
  it('is shown at the bench until nobody touched the tablet for half an hour', () => {
    expect(mayShow(bench, ago(70), ago(29), kNow)).toBe(true);
    expect(mayShow(bench, ago(70), ago(30), kNow)).toBe(false);
  });
  it('is shown at the desk for four hours without a touch', () => {
    expect(mayShow(desk, ago(300), ago(239), kNow)).toBe(true);
    expect(mayShow(desk, ago(300), ago(240), kNow)).toBe(false);
  });
  it('is shown for twelve hours at most, also where nobody signs in', () => {
    expect(mayShow({ open: true, at: '' }, ago(719), 0, kNow)).toBe(true);
    expect(mayShow({ open: true, at: '' }, ago(720), ago(0), kNow)).toBe(false);
    expect(mayShow(bench, ago(720), ago(1), kNow)).toBe(false);
  });
  it('is not shown when a clock was put back, or it is not known who asked', () => {
    expect(mayShow(bench, ago(-5), ago(1), kNow)).toBe(false);
    expect(mayShow(bench, ago(5), ago(-5), kNow)).toBe(false);
    expect(mayShow({ open: false, at: '' }, ago(1), ago(1), kNow)).toBe(false);
    expect(mayShow(bench, Number.NaN, ago(1), kNow)).toBe(false);
  });
});
