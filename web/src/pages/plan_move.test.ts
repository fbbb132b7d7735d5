import { describe, expect, it } from 'vitest';
import type { ProposalView } from '../ask/ask';
import { placeOf } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';
import { type Answer, type Deed, kAtRest, type Move, moved, wantsAnswer } from './plan_move';

const work: Work = {
  key: '2041 A-20', order: '2041', rider: 'R', operation: 'A-20', name: 'work', person: 'mara', area: 'assembly', stand: 1,
  start: 600, end: 660, pieces: [{ from: 600, to: 660 }], waitsUntil: 660, frozen: false, pinned: false, late: false, cannot: '',
  others: [], lending: [],
};
const frozen = { ...work, key: '2022 A-20', frozen: true };
const there = { person: 'ole', start: 700, stand: 0 };
const further = { ...there, start: 715 };
const lands: Answer = { lands: true, proposal: { id: 'p1' } as ProposalView };
const refused: Answer = { lands: false, sentence: 'Ole is not at work then.' };
const after = (...deeds: Deed[]): Move => deeds.reduce(moved, kAtRest);
const pick: Deed = { do: 'pick up', work, hand: 'pointer' };
const over = (place = there): Deed => ({ do: 'hold over', place });
const answer = (what: Answer, place = there): Deed => ({ do: 'answer', place, work: work.key, answer: what });

describe('a move by hand', () => {
  it('is picked up where it is, and nobody is asked yet', () => {
    const move = after(pick);
    expect(move).toMatchObject({ at: 'held', place: placeOf(work) });
    expect(wantsAnswer(move)).toBe(false);
    expect(wantsAnswer(after(pick, over()))).toBe(true);
  });
  it('does not pick up what is frozen, by no way', () => {
    expect(after({ do: 'pick up', work: frozen, hand: 'keys' })).toBe(kAtRest);
    expect(after({ do: 'put straight down', work: frozen, place: there })).toBe(kAtRest);
  });
  it('changes nothing when let down where it was', () => {
    expect(after(pick, { do: 'let down' })).toEqual(kAtRest);
    expect(after(pick, over(), over(placeOf(work)), { do: 'let down' })).toEqual(kAtRest);
  });
  it('shows the answer of the place it is over, never that of an earlier place', () => {
    expect(after(pick, over(), answer(lands))).toMatchObject({ answer: lands });
    expect(after(pick, over(), over(further), answer(lands))).toMatchObject({ answer: undefined, place: further });
    expect(after(pick, over(), answer(lands), over(further))).toMatchObject({ answer: undefined });
  });
  it('keeps the answer it had when it is let down there', () => {
    expect(after(pick, over(), answer(lands), { do: 'let down' })).toMatchObject({ at: 'down', answer: lands });
    expect(wantsAnswer(after(pick, over(), { do: 'let down' }))).toBe(true);
  });
  it('is kept only when it lands, and only when somebody says so', () => {
    const down = [pick, over(), { do: 'let down' }] as Deed[];
    expect(after(...down, { do: 'keep' })).toMatchObject({ keeping: false });
    expect(after(...down, answer(refused), { do: 'keep' })).toMatchObject({ keeping: false });
    expect(after(...down, answer(lands), { do: 'keep' })).toMatchObject({ keeping: true });
    expect(after(pick, over(), answer(lands), { do: 'keep' })).toMatchObject({ at: 'held' });
  });
  it('is put back from anywhere but while it is being written down', () => {
    expect(after(pick, over(), { do: 'put back' })).toEqual(kAtRest);
    expect(after(pick, over(), { do: 'let down' }, answer(refused), { do: 'put back' })).toEqual(kAtRest);
    const keeping = after(pick, over(), { do: 'let down' }, answer(lands), { do: 'keep' });
    expect(moved(keeping, { do: 'put back' })).toBe(keeping);
    expect(moved(keeping, pick)).toBe(keeping);
    expect(moved(keeping, { do: 'kept' })).toEqual(kAtRest);
  });
  it('says why when it could not be written down', () => {
    const sentence = 'another plan was agreed meanwhile';
    const move = after(pick, over(), { do: 'let down' }, answer(lands), { do: 'keep' }, { do: 'not kept', sentence });
    expect(move).toMatchObject({ at: 'down', keeping: false, answer: { lands: false, sentence } });
  });
  it('is put straight down with a form, also where it is: that pins it', () => {
    const move = after({ do: 'put straight down', work, place: placeOf(work) });
    expect(move).toMatchObject({ at: 'down', hand: 'form' });
    expect(wantsAnswer(move)).toBe(true);
  });
  it('takes no answer meant for other work', () => {
    const move = after(pick, over());
    expect(moved(move, { do: 'answer', place: there, work: '2022 A-20', answer: refused })).toBe(move);
  });
});
