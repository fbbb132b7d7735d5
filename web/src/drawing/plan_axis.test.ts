import { describe, expect, it } from 'vitest';
import { axisOf, dayOf, daysOn, localOf, minuteAt, minuteOf, piecesOf, snapped, stepFor, stepped, xOf } from './plan_axis';

const at = (local: string) => minuteOf(`2026-11-${local}`);
const span = (from: string, to: string) => ({ from: at(from), to: at(to) });
// Mara with a break; Ole comes later and goes later; the 26th is closed.
const mara = [span('25T09:00', '25T12:00'), span('25T13:00', '25T17:00'), span('27T09:00', '27T12:00')];
const ole = [span('25T11:00', '25T18:00')];
const axis = axisOf([...mara, ...ole], 0.5);

describe('time on the paper', () => {
  it('gives a day the hours from the first who comes to the last who goes, and a closed day none', () => {
    expect(axis.days.map((d) => [d.day, d.x, d.width])).toEqual([['2026-11-25', 0, 270], ['2026-11-27', 270, 90]]);
    expect(axis.width).toBe(360);
  });
  it('keeps the room of a break, and lays what is folded away on the fold', () => {
    expect(xOf(axis, at('25T13:00')) - xOf(axis, at('25T12:00'))).toBe(30);
    expect(xOf(axis, at('26T12:00'))).toBe(270);
    expect(xOf(axis, at('30T12:00'))).toBe(360);
  });
  it('goes from minute to pixel and back for every open minute', () => {
    for (const day of axis.days) {
      for (let minute = day.from; minute < day.to; minute += 7) {
        expect(minuteAt(axis, xOf(axis, minute))).toBeCloseTo(minute, 6);
      }
    }
  });
  it('reads outside the paper as its first and last minute', () => {
    expect(minuteAt(axis, -40)).toBe(at('25T09:00'));
    expect(minuteAt(axis, 4000)).toBe(at('27T12:00'));
    expect(minuteAt(axisOf([], 1), 10)).toBe(0);
  });
  it('writes a minute as it was read', () => {
    expect(localOf(at('25T08:45'))).toBe('2026-11-25T08:45');
    expect(dayOf(at('27T00:00'))).toBe('2026-11-27');
  });
});

describe('where moved work comes to rest', () => {
  const snap = { step: 15, magnets: [], reach: 10 };
  it('rests on whole steps of the clock', () => {
    expect(snapped(axis, at('25T09:07'), snap)).toBe(at('25T09:00'));
    expect(snapped(axis, at('25T09:08'), snap)).toBe(at('25T09:15'));
  });
  it('is drawn to the end of other work nearby, not to one further off', () => {
    const near = { ...snap, magnets: [at('25T10:05'), at('25T11:52')] };
    expect(snapped(axis, at('25T10:10'), near)).toBe(at('25T10:05'));
    expect(snapped(axis, at('25T10:20'), near)).toBe(at('25T10:15'));
  });
  it('stays within the open hours of its day', () => {
    expect(snapped(axis, at('25T18:00'), snap)).toBe(at('25T17:45'));
    expect(snapped(axis, at('26T03:00'), snap)).toBe(at('25T17:45'));
    expect(snapped(axis, at('24T03:00'), snap)).toBe(at('25T09:00'));
  });
  it('takes wider steps the smaller a minute is drawn', () => {
    expect([1.3, 0.4, 0.2, 0.1, 0.05, 0.01].map(stepFor)).toEqual([15, 15, 30, 60, 120, 240]);
  });
  it('walks by keys over folds, and not off the paper', () => {
    const walk = (from: string, direction: 1 | -1) => stepped(axis, at(from), direction, 15);
    expect(walk('25T09:00', 1)).toBe(at('25T09:15'));
    expect(walk('25T09:05', 1)).toBe(at('25T09:15'));
    expect(walk('25T09:20', -1)).toBe(at('25T09:15'));
    expect(walk('25T17:45', 1)).toBe(at('27T09:00'));
    expect(walk('27T09:00', -1)).toBe(at('25T17:45'));
    expect(walk('25T09:00', -1)).toBe(at('25T09:00'));
    expect(walk('27T11:45', 1)).toBe(at('27T11:45'));
  });
  it('jumps to the same time of another day, as far as that day is open', () => {
    expect(daysOn(axis, at('25T10:00'), 1)).toBe(at('27T10:00'));
    expect(daysOn(axis, at('25T17:00'), 1)).toBe(at('27T11:59'));
    expect(daysOn(axis, at('25T10:00'), -1)).toBe(at('25T10:00'));
  });
});

describe('how long moved work takes there', () => {
  it('goes on after the break and on the next day of that person', () => {
    expect(piecesOf(mara, at('25T11:00'), 400)).toEqual([
      span('25T11:00', '25T12:00'), span('25T13:00', '25T17:00'), span('27T09:00', '27T10:40'),
    ]);
  });
  it('begins when the person comes, and stays short where the hours end', () => {
    expect(piecesOf(ole, at('25T08:00'), 60)).toEqual([span('25T11:00', '25T12:00')]);
    expect(piecesOf(ole, at('25T17:00'), 90)).toEqual([span('25T17:00', '25T18:00')]);
    expect(piecesOf(ole, at('25T18:00'), 90)).toEqual([]);
  });
});
