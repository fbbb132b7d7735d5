import { expect, test } from 'vitest';
import type { SheetValue } from '../ask/ask';
import { aidOfValue } from './aid_of_value';

const value = (reading: string, dimension: SheetValue['dimension'], more: Partial<SheetValue> = {}) =>
  ({ reading, dimension, pass_or_fail: false, ...more }) as SheetValue;

test('a torque leads to the aid of its joint', () => {
  expect(aidOfValue(value('caliper_bolts_front', 'torque'))).toEqual({ aid: 'torque', end: 'caliper bolts front' });
});

test('a pressure leads to the aid of its end', () => {
  expect(aidOfValue(value('tyre_pressure_rear', 'pressure'))).toEqual({ aid: 'tyre-pressure', end: 'rear' });
});

test('what no aid reckons leads nowhere', () => {
  expect(aidOfValue(value('pulley_gap', 'length'))).toBeUndefined();
  expect(aidOfValue(value('tyre_pressure_rear', 'pressure', { pass_or_fail: true }))).toBeUndefined();
});
