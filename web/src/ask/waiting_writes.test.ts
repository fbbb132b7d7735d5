import { describe, expect, it } from 'vitest';
import { newKey, nextMoment, notReached, notTaken, notYetSeen, onceMore, placeForNext, textOf, toSend, waitAfter, waitsBehind, type Write, writeIn } from './waiting_writes';

const write = (key: string, made: number, change: Partial<Write> & { about?: string } = {}): Write => {
  const { about = 'A-60', ...rest } = change;
  return { key, order: '2016', who: 'tove', words: key, deeds: [{ deed: 'started', about }], made, tries: 0, after: 0, refused: '', ...rest };
};
const keys = (writes: Write[]) => writes.map((one) => one.key);

describe('writes that wait', () => {
  it('go one after the other for each bike, the oldest first', () => {
    const writes = [write('b', 2), write('a', 1), write('c', 3, { order: '2012' })];
    expect(keys(toSend(writes, 0))).toEqual(['a', 'c']);
  });
  it('hold up what was done after them while the server is not reached', () => {
    const late = notReached(write('a', 1), 5000);
    expect(late).toMatchObject({ tries: 1, after: 6000 });
    const writes = [late, write('b', 2)];
    expect(toSend(writes, 5999)).toEqual([]);
    expect(nextMoment(writes)).toBe(6000);
    expect(keys(toSend(writes, 6000))).toEqual(['a']);
  });
  it('wait longer each time, and never longer than half a minute', () => {
    const waits = [1, 2, 3, 4, 5, 6, 7, 50].map(waitAfter);
    expect(waits).toEqual([1000, 2000, 4000, 8000, 16_000, 30_000, 30_000, 30_000]);
  });
  it('let others pass once refused, but for what is about the same', () => {
    const refused = notTaken(write('a', 1), 'it is done already');
    const same = write('b', 2);
    const other = write('c', 3, { about: 'A-70' });
    const writes = [refused, same, other];
    expect(keys(toSend(writes, 0))).toEqual(['c']);
    expect(waitsBehind(same, writes)?.key).toBe('a');
    expect(keys(toSend([same, other], 0))).toEqual(['b']);
  });
  it('are sent again as they were when a person says so', () => {
    const refused = notTaken(notReached(write('a', 1), 0), 'no');
    expect(nextMoment([refused])).toBeUndefined();
    expect(onceMore(refused)).toEqual(write('a', 1));
  });
  it('wait for their own person, and hold up only what is about the same', () => {
    const toves = write('a', 1);
    const same = write('b', 2, { who: 'jonas' });
    const other = write('c', 3, { who: 'jonas', about: 'A-70' });
    const writes = [toves, same, other];
    const jonas = (who: string) => who === 'jonas';
    expect(keys(toSend(writes, 0, jonas))).toEqual(['c']);
    expect(keys(toSend(writes, 0, (who) => who === 'tove'))).toEqual(['a']);
    expect(keys(toSend(writes, 0))).toEqual(['a']);
    expect(nextMoment([toves], jonas)).toBeUndefined();
    expect(keys(toSend(writes, 0, () => false))).toEqual([]);
  });
  it('count until the record was seen up to their line', () => {
    const landed = [{ write: write('a', 1), last: 4 }, { write: write('b', 2), last: 6 }, { write: write('c', 3, { order: '2012' }), last: 1 }];
    expect(keys(notYetSeen(landed, '2016', 5).map((one) => one.write))).toEqual(['b', 'c']);
    expect(notYetSeen(landed, '2016', 3)).toHaveLength(3);
  });
  it('keep their order when the clock is put back', () => {
    expect(placeForNext([write('a', 900), write('b', 700)], 100)).toBe(901);
    expect(placeForNext([], 100)).toBe(100);
  });
  it('are read back as they were kept; what is none stays unread', () => {
    expect(writeIn(textOf(write('a', 1)))).toEqual(write('a', 1));
    for (const text of ['', '{', 'null', '[]', '{"key":"a"}', JSON.stringify({ ...write('a', 1), deeds: [] })]) {
      expect(writeIn(text)).toBeUndefined();
    }
  });
  it('have keys that no other has', () => {
    expect(new Set(Array.from({ length: 500 }, newKey)).size).toBe(500);
  });
});
