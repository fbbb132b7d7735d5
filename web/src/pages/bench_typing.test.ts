import { expect, test } from 'vitest';
import { personOnLabel, pinWith } from './bench_typing';

const names = [{ id: 'jonas', name: 'Jonas Ward', code: 'RW:P:JONAS:7' }, { id: 'ilka', name: 'Ilka Brandow', code: 'RW:P:ILKA:K' }];

test('a PIN takes digits, eight at most', () => {
  expect(pinWith('12', '3')).toBe('123');
  expect(pinWith('12', 'x')).toBe('12');
  expect(pinWith('12', 'Enter')).toBe('12');
  expect(pinWith('12345678', '9')).toBe('12345678');
});

test('a label names a person by its code or id, and nobody by part of one', () => {
  expect(personOnLabel('jonas', names)?.id).toBe('jonas');
  expect(personOnLabel('rw:p:ilka:k', names)?.id).toBe('ilka');
  expect(personOnLabel('jon', names)).toBeUndefined();
  expect(personOnLabel('RW:P:ILKA:X', names)).toBeUndefined();
  expect(personOnLabel('', names)).toBeUndefined();
});
