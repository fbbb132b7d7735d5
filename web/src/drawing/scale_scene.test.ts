import { describe, expect, it } from 'vitest';
import { scaleScene } from './scale_scene';

const scale = (ats: number[], logarithmic = true) => ({
  title: 'Development', unit: 'm', logarithmic,
  marks: ats.map((at) => ({ at, label: String(at), group: 'chainring 46' })),
});

describe('the scale of gears', () => {
  it('puts equal ratios equally far apart', () => {
    const [line] = scaleScene(scale([2, 4, 8]), 400).lines;
    const [a, b, c] = line!.marks.map((mark) => mark.x);
    expect(b! - a!).toBeCloseTo(c! - b!, 6);
  });
  it('leaves out a label that would touch its neighbour, never a mark', () => {
    const [line] = scaleScene(scale([4, 4.05, 8]), 400).lines;
    expect(line!.marks.map((mark) => mark.isShown)).toEqual([true, false, true]);
  });
  it('stands in the middle with a single gear', () => {
    expect(scaleScene(scale([5]), 400).lines[0]!.marks[0]!.x).toBe(200);
  });
});
