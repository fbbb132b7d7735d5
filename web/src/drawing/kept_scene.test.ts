import { expect, it } from 'vitest';
import { keptScene } from './kept_scene';

const band = (said: number, kept: number) =>
  ({ words: 'x', promises: 20, kept, said, least: 15, most: 20 });

it('puts a promise kept as often as said on the slope', () => {
  const scene = keptScene([band(0.9, 18)], 600);
  const [mark] = scene.marks;
  const share = (scene.bottom - (mark?.y ?? 0)) / (scene.bottom - scene.top);
  const said = ((mark?.x ?? 0) - scene.left) / (scene.right - scene.left);
  expect(share).toBeCloseTo(said, 9);
  expect(mark?.outside).toBe(false);
});

it('marks what chance does not explain, and stays inside a phone', () => {
  const scene = keptScene([band(0.9, 14)], 320);
  expect(scene.marks[0]?.outside).toBe(true);
  expect(scene.side).toBe(320);
  for (const mark of scene.marks) {
    expect(mark.high).toBeGreaterThanOrEqual(scene.top);
    expect(mark.low).toBeLessThanOrEqual(scene.bottom);
  }
});
