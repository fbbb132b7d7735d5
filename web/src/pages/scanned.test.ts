import { describe, expect, it } from 'vitest';
import type { KitPart } from '../ask/ask';
import { checkCharacter, placeInKit, placesOfPart, scannedIn } from './scanned';

const code = (letter: string, id: string, wheel = '') => `RW:${letter}:${id}${wheel && `:${wheel}`}:${checkCharacter(letter + id + wheel)}`;
const part = (slot: string, change: Partial<KitPart> = {}): KitPart => ({
  slot, position: slot, part: `P-${slot}`, name: slot, has_serial: false, may_follow: false, bound: false, serial: '', lot: '', came_by: '',
  since: '', who: '', here: '', seen: [], ...change,
});

describe('the check character', () => {
  // Guidelines for the Blood Transfusion Services in the UK, annex 2 (as found): ISO 7064 modulus 37,2
  // of G1234 98 654321 has the value 17, "H".
  it('is that of a published example', () => expect(checkCharacter('G123498654321')).toBe('H'));
});

describe('what a scanner typed', () => {
  it('is a label of the shop, in capitals or not', () => {
    expect(scannedIn(code('O', '2041'))).toEqual({ kind: 'order', id: '2041' });
    expect(scannedIn(` ${code('K', '2041').toLowerCase()}\n`)).toEqual({ kind: 'kit', id: '2041' });
    expect(scannedIn(code('W', '2041', 'FRONT'))).toEqual({ kind: 'wheel', id: '2041', wheel: 'front_wheel' });
    expect(scannedIn(code('W', '2041', 'REAR'))).toMatchObject({ wheel: 'rear_wheel' });
    expect(scannedIn(code('B', 'HB-0412'))).toEqual({ kind: 'bin', id: 'HB-0412' });
    expect(scannedIn(code('B', 'HB--2F1'))).toEqual({ kind: 'bin', id: 'HB/1' });
    expect(scannedIn(code('P', 'TOVE'))).toEqual({ kind: 'person', id: 'TOVE' });
    expect(scannedIn(code('T', 'T3'))).toEqual({ kind: 'tool', id: 'T3' });
  });
  it('is refused when one character is another, missing, or a wheel is none', () => {
    const good = code('O', '2041');
    for (let at = 5; at < good.length; at += 1) {
      if (good[at] === ':') continue;
      const other = good[at] === '7' ? '8' : '7';
      expect(scannedIn(good.slice(0, at) + other + good.slice(at + 1))).toEqual({ kind: 'mistyped' });
    }
    for (const bad of ['RW:O:2041', 'RW:O:', 'RW:O', code('W', '2041'), code('W', '2041', 'LEFT'), code('O', '2041', 'REAR'), code('B', '--FF')]) {
      expect(scannedIn(bad)).toEqual({ kind: 'mistyped' });
    }
  });
  it('is else the mark of a part, as it is', () => {
    for (const text of ['hg-77/1', 'RW', 'RW:X:1:1', '4012345678901']) expect(scannedIn(text)).toEqual({ kind: 'mark', text });
  });
});

describe('a number in the kit', () => {
  const kit = [part('frame', { bound: true, serial: 'F1' }), part('fork', { seen: ['K9'] }), part('front_rim', { seen: ['L1'] }), part('rear_rim', { seen: ['L1'], part: 'P-front_rim' })];
  it('goes to the part that was seen with it at goods-in', () => {
    expect(placeInKit(kit, 'k9')).toMatchObject({ how: 'bind', part: { slot: 'fork' } });
  });
  it('is known when it is in the kit already', () => {
    expect(placeInKit(kit, 'F1')).toMatchObject({ how: 'there', part: { slot: 'frame' } });
  });
  it('asks where two places may be meant, or none', () => {
    expect(placeInKit(kit, 'L1')).toMatchObject({ how: 'ask', parts: [{ slot: 'front_rim' }, { slot: 'rear_rim' }] });
    expect(placeInKit(kit, 'ZZ')).toMatchObject({ how: 'ask', parts: [{ slot: 'fork' }, { slot: 'front_rim' }, { slot: 'rear_rim' }] });
  });
  it('of a bin is for every open place of that part', () => {
    expect(placesOfPart(kit, 'p-FRONT_RIM').map((one) => one.slot)).toEqual(['front_rim', 'rear_rim']);
  });
});
