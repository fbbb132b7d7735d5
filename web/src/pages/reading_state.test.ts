import { describe, expect, it } from 'vitest';
import type { BenchOperation, BenchPoint, SheetValue, ToolView } from '../ask/ask';
import { isTyped, mayBeNegative, nextPoint, nextReading, type PadKey, sentValue, toolsFor, typedValue, unitsOf, verdictOf, withKey } from './reading_state';

const limits = (least: number | null, most: number | null, change: Partial<SheetValue> = {}): SheetValue => ({
  reading: 'r', name: 'r', dimension: 'torque', unit: 'N·m', pass_or_fail: false, stop: false, stop_below: null, stop_above: null,
  target: null, strictest: { least, most, source: '' }, limits: [], how: '', count: 1, target_text: '', range_text: '', us_text: '', ...change,
});
const typed = (keys: PadKey[]) => keys.reduce(withKey, '');
const point = (outcome: string): BenchPoint => ({ value: null, text: '', outcome, who: '', at: '', tool: '' });

describe('the number pad', () => {
  it('takes comma and point alike, once, and puts a nought before them', () => {
    expect(typed(['5', ',', '2'])).toBe('5,2');
    expect(typed(['.', '4', '.', '5'])).toBe('0.45');
    expect(typed(['sign', '.', '4'])).toBe('-0.4');
  });
  it('turns the sign and takes back one key at a time', () => {
    expect(typed(['3', 'sign'])).toBe('-3');
    expect(typed(['3', 'sign', 'sign'])).toBe('3');
    expect(typed(['3', '4', 'erase'])).toBe('3');
    expect(typed(['erase'])).toBe('');
  });
  it('takes no more digits than a gauge shows', () => {
    expect(typed([...'123456789'] as PadKey[])).toBe('1234567');
    expect(isTyped('12345678')).toBe(false);
    expect(isTyped('-12,5')).toBe(true);
    expect(isTyped('RW:T:T3')).toBe(false);
  });
  it('offers the sign only where a number below zero can be', () => {
    expect(mayBeNegative(limits(0, 0.5))).toBe(false);
    expect(mayBeNegative(limits(null, 1250))).toBe(false);
    expect(mayBeNegative(limits(-5, 5))).toBe(true);
    expect(mayBeNegative(limits(null, null))).toBe(true);
    expect(mayBeNegative(limits(0, 45, { stop_below: -10 }))).toBe(true);
  });
});

describe('a reading', () => {
  it('is a number with its unit', () => {
    expect(typedValue('5,2', 'N·m')).toBeCloseTo(5.2, 12);
    expect(typedValue('46', 'in-lb')).toBeCloseTo(5.197, 3);
    expect(typedValue('25', 'km/h')).toBeCloseTo(6.944, 3);
    expect(typedValue('4.5', 'm')).toBe(4500);
    for (const text of ['', '-', ',', '−']) expect(typedValue(text, 'mm')).toBeUndefined();
    expect(sentValue('46', 'in-lb')).toBe('46 in-lb');
    expect(sentValue('−3', '')).toBe('-3');
    expect(unitsOf(limits(1, 2))).toEqual(['N·m', 'in-lb']);
    expect(unitsOf(limits(1, 2, { dimension: 'length', unit: 'mm' }))).toEqual(['mm']);
  });
  it('stands inside, outside or beyond a stop', () => {
    expect(verdictOf(limits(4, 6), 5)).toBe('pass');
    expect(verdictOf(limits(4, 6), 4)).toBe('pass');
    expect(verdictOf(limits(4, 6), 3.9)).toBe('fix');
    expect(verdictOf(limits(4, 6, { stop: true }), 6.1)).toBe('stop');
    const wider = limits(0, 0.5, { stop: true, stop_above: 0.8 });
    expect([0.5, 0.6, 0.8, 0.81, -0.1].map((read) => verdictOf(wider, read))).toEqual(['pass', 'fix', 'fix', 'stop', 'stop']);
    expect(verdictOf(limits(null, null), 1)).toBe('pass');
  });
  it('is read with tools that measure it and are good; the others say why not', () => {
    const tool = (id: string, measures: string, good: boolean, sentence: string): ToolView => ({ id, name: id, measures, good_until: null, good, sentence });
    const { good, others } = toolsFor(limits(4, 6), [tool('G1', 'length', true, ''), tool('T1', 'torque', true, ''), tool('T4', 'torque', false, 'calibration was due')]);
    expect(good.map((one) => one.id)).toEqual(['T1']);
    expect(others.map((one) => [one.tool.id, one.why])).toEqual([['T4', 'calibration was due'], ['G1', 'measures length']]);
  });
  it('leads to the next point, then to the next reading', () => {
    const reading = (id: string, outcomes: string[]) => ({ value: limits(1, 2, { reading: id }), points: outcomes.map(point) });
    expect(nextPoint(reading('a', ['pass', '', '']))).toBe(2);
    expect(nextPoint(reading('a', ['pass']))).toBe(0);
    const operation = { readings: [reading('a', ['']), reading('b', ['pass']), reading('c', ['', ''])] } as unknown as BenchOperation;
    expect(nextReading(operation, 'b')?.value.reading).toBe('c');
    expect(nextReading(operation, 'c')?.value.reading).toBe('a');
    expect(nextReading({ readings: [reading('a', ['pass'])] } as unknown as BenchOperation, 'a')).toBeUndefined();
  });
});
