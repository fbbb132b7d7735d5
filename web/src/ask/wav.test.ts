import { expect, test } from 'vitest';
import { joined, wavOf } from './wav';

test('a WAV file says its length, its rate and its samples', () => {
  const view = new DataView(wavOf(new Float32Array([0, 0.5, -1, 2]), 48_000));
  const word = (at: number) => String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(at + i)));
  expect([word(0), word(8), word(12), word(36)]).toEqual(['RIFF', 'WAVE', 'fmt ', 'data']);
  expect(view.byteLength).toBe(44 + 8);
  expect(view.getUint32(4, true)).toBe(44);
  expect(view.getUint32(24, true)).toBe(48_000);
  expect(view.getUint32(40, true)).toBe(8);
  expect([0, 1, 2, 3].map((i) => view.getInt16(44 + 2 * i, true))).toEqual([0, 16384, -32767, 32767]);
});

test('pieces keep their order', () => {
  expect([...joined([new Float32Array([1, 2]), new Float32Array([]), new Float32Array([3])])]).toEqual([1, 2, 3]);
});
