import { describe, expect, it } from 'vitest';
import { clockTyped } from './plan_move_form';

describe('a time typed by hand', () => {
  it('is read with a colon, a point or neither', () => {
    expect(['13:30', '9.05', '930', ' 08:00 '].map(clockTyped)).toEqual(['13:30', '09:05', '09:30', '08:00']);
  });
  it('is refused when no clock shows it', () => {
    expect(['', '24:00', '9:60', 'noon', '9', '12:345'].map(clockTyped)).toEqual([undefined, undefined, undefined, undefined, undefined, undefined]);
  });
});
