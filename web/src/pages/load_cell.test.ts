import { expect, it } from 'vitest';
import { filled } from './load_cell';

it('draws hours to scale of the widest', () => {
  expect(filled(10, 20, 40)).toEqual({ there: 49.5, planned: 24.8, full: false });
});

it('is full from nine tenths on', () => {
  expect(filled(17.9, 20, 40).full).toBe(false);
  expect(filled(18, 20, 40).full).toBe(true);
});

it('is not full when nobody is there and nothing is planned', () => {
  expect(filled(0, 0, 40)).toEqual({ there: 0, planned: 0, full: false });
});
