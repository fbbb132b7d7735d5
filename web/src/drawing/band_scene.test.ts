import { describe, expect, it } from 'vitest';
import { bandScene, roundSteps } from './band_scene';

const band = { title: 'Charge', along_unit: 'km', unit: 'Wh', along: [1, 2], low: [300, 0], middle: [350, 100], high: [400, 200] };

describe('the band along a way', () => {
  it('marks round steps', () => {
    expect(roundSteps(470)).toEqual([0, 100, 200, 300, 400]);
    expect(roundSteps(31.1)).toEqual([0, 10, 20, 30]);
    expect(roundSteps(0)).toEqual([0]);
  });
  it('stands on the ground where nothing is left', () => {
    const scene = bandScene(band, 600);
    expect(scene.spread).toContain(`${scene.right.toFixed(1)} ${scene.bottom.toFixed(1)}`);
    expect(scene.levels[0]!.y).toBe(scene.bottom);
  });
});
