import { describe, expect, it } from 'vitest';
import { isSamePlace, photoIn, type PhotoOf, type WaitingPhoto } from './waiting_photos';

const bike: PhotoOf = { kind: 'bike', order: '2016', about: 'A-41', who: 'mara' };
const goods: PhotoOf = { kind: 'goods', line: 'P-3165', claim: 1 };
const photo = (change: Partial<WaitingPhoto> = {}): WaitingPhoto =>
  ({ key: 'k', of: bike, by: 'mara', at: '2026-11-25T07:45:00Z', bytes: new ArrayBuffer(3), isWaiting: false, isKept: false, refused: '', ...change });

describe('a photograph that waits', () => {
  it('is read back as it was kept, and waits until it is sent', () => {
    expect(photoIn(photo())).toEqual(photo({ isWaiting: true, isKept: true }));
    expect(photoIn(photo({ of: goods, refused: 'no' }))).toEqual(photo({ of: goods, refused: 'no', isKept: true }));
  });
  it('is none when a piece of it is missing', () => {
    for (const piece of ['key', 'of', 'by', 'at', 'bytes', 'refused']) {
      expect(photoIn({ ...photo(), [piece]: undefined }), piece).toBeUndefined();
    }
    for (const value of [undefined, null, 3, {}, { ...photo(), key: '' }, { ...photo(), of: { kind: 'bike', order: '2016' } }, { ...photo(), of: { kind: 'goods', line: 'P-1', claim: '1' } }]) {
      expect(photoIn(value)).toBeUndefined();
    }
  });
  it('belongs to one place, whoever took it', () => {
    expect(isSamePlace(bike, { ...bike, who: 'tove' } as PhotoOf)).toBe(true);
    expect(isSamePlace(bike, { ...bike, about: 'boxes' } as PhotoOf)).toBe(false);
    expect(isSamePlace(goods, { ...goods, claim: 0 } as PhotoOf)).toBe(false);
    expect(isSamePlace(goods, bike)).toBe(false);
  });
});
