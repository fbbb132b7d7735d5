import { describe, expect, it } from 'vitest';
import { canTakeBack, fieldsOf, fittedTo, freshState, isComplete, otherSign, passNumber, spokeAt, stateIn, turnsMade, withPlaces } from './truing_state';

const read = { ...freshState(8), lateral: ['0.1', '−0,2', '0', '0', '0', '0', '0', '0'], radial: Array.from({ length: 8 }, () => '0') };

describe('what is typed at the stand', () => {
  it('is whole once every place was read both ways', () => {
    expect(isComplete(freshState(8))).toBe(false);
    expect(isComplete(read)).toBe(true);
    expect(isComplete({ ...read, lateral: ['-', ...read.lateral.slice(1)] })).toBe(false);
  });
  it('becomes the fields of the aid, over what the wheel is', () => {
    const fields = fieldsOf({ holes_left: '16', rim: 'deep' }, { ...read, own: { rim: 'shallow' } }, 4);
    expect(fields).toMatchObject({ lateral: '0.1 -0.2 0 0 0 0 0 0', tensions: '', dish: '', rim: 'shallow', holes_left: '16' });
  });
  it('says 0 for a spoke that was not read, and nothing when none was', () => {
    expect(fieldsOf({}, { ...read, tensions: ['', '900'] }, 4)['tensions']).toBe('0 900 0 0');
    expect(fieldsOf({}, { ...read, tensions: ['', ''] }, 4)['tensions']).toBe('');
  });
  it('waits for new readings after the turns and keeps the passes', () => {
    const next = turnsMade({ ...read, ticked: [3], dish: '0.2' }, 'lateral …; turns 3:-1');
    expect(next).toMatchObject({ view: 'readings', earlier: 'lateral …; turns 3:-1', ticked: [], dish: '' });
    expect(next.lateral).toEqual(freshState(8).lateral);
    expect(passNumber(next)).toBe(2);
    expect(passNumber(read)).toBe(1);
  });
  it('can take turns back that were not made, until something was read', () => {
    const next = turnsMade(turnsMade(read, 'one'), 'one | two');
    expect(canTakeBack(next)?.earlier).toBe('one');
    expect(canTakeBack(next)?.before).toBeUndefined();
    expect(canTakeBack({ ...next, radial: ['0.1', ...next.radial.slice(1)] })).toBeUndefined();
    expect(canTakeBack(read)).toBeUndefined();
  });
  it('is read back as it was kept, and begins anew from what it does not understand', () => {
    expect(stateIn(JSON.stringify(read))).toEqual(read);
    for (const text of [null, '', '{', '{"lateral": 3}', '[]']) expect(stateIn(text)).toEqual(freshState());
  });
  it('drops readings of other places', () => {
    expect(withPlaces(read, 12).lateral).toHaveLength(12);
    expect(isComplete(withPlaces(read, 12))).toBe(false);
  });
  it('has places at spokes until something was read or chosen', () => {
    expect(fittedTo(freshState(), 36).lateral).toHaveLength(18);
    expect(fittedTo(freshState(), 32).lateral).toHaveLength(16);
    expect(fittedTo(freshState(), 0).lateral).toHaveLength(16);
    expect(fittedTo(withPlaces(freshState(), 16), 36).lateral).toHaveLength(16);
    expect(fittedTo({ ...read, earlier: 'one' }, 36).lateral).toHaveLength(8);
    expect(fittedTo(read, 36)).toBe(read);
  });
  it('turns the sign', () => {
    expect(otherSign('0.3')).toBe('-0.3');
    expect(otherSign('-0.3')).toBe('0.3');
  });
  it('knows which spoke stands at a place', () => {
    expect([0, 1, 15].map((i) => spokeAt(i, 16, 32))).toEqual([1, 3, 31]);
    expect([0, 1, 4].map((i) => spokeAt(i, 16, 36))).toEqual([1, undefined, 10]);
  });
});
