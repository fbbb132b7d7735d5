import { describe, expect, it } from 'vitest';
import type { WheelOnStand } from '../ask/ask';
import { tensionScene } from './tension_scene';
import { barLength, turnArrow, wheelScene } from './wheel_scene';

/** Four spokes, out by 0.4 mm to the left at the first place. */
const wheel: WheelOnStand = {
  radius_mm: 301, verdict: 'turn', said: [], bent_at_deg: null, read_next: [],
  limits: { lateral_mm: 0.5, lateral_middle_mm: 0, radial_mm: 0.5, radial_middle_mm: 0, highest_n: 1300, spread: 0.2 },
  spokes: [0, 90, 180, 270].map((angle, i) => ({
    number: i + 1, side: i % 2 ? 'right' as const : 'left' as const, angle_deg: angle, hub_angle_deg: angle + 60,
    hub_radius_mm: i % 2 ? 22 : 20, quarters: i === 1 ? -2 : 0, turn: '', now_n: 600, now_uncertainty_n: 30,
    after_n: 560, after_uncertainty_n: 30, target_n: i % 2 ? 1100 : 540,
  })),
  rim: [0, 90, 180, 270].map((angle) => ({
    angle_deg: angle, lateral_now_mm: angle === 0 ? 0.4 : 0, radial_now_mm: angle === 90 ? 0.2 : 0,
    lateral_after_mm: 0, radial_after_mm: 0,
  })),
};
const points = (path: string) => path.slice(1, -1).split('L').map((piece) => piece.split(' ').map(Number) as [number, number]);
const from = (centre: number, [x, y]: [number, number]) => Math.hypot(x - centre, y - centre);

describe('the wheel on the stand', () => {
  const scene = wheelScene(wheel, 600);
  it('has its first spoke on top and goes on clockwise', () => {
    expect(scene.spokes[0]!.rim[0]).toBeCloseTo(300);
    expect(scene.spokes[0]!.rim[1]).toBeLessThan(300);
    expect(scene.spokes[1]!.rim[0]).toBeGreaterThan(300);
  });
  it('draws a rim that is out to the left outside its circle, to the scale of its bar', () => {
    const out = from(scene.centre, points(scene.sideways.now)[0]!) - scene.sideways.radius;
    expect(out).toBeCloseTo(0.4 * scene.perMm, 0);
    expect(from(scene.centre, points(scene.sideways.now)[1]!)).toBeCloseTo(scene.sideways.radius, 0);
  });
  it('draws a rim that is out towards the axle inside its circle', () => {
    const out = from(scene.centre, points(scene.upright.now)[1]!) - scene.upright.radius;
    expect(out).toBeCloseTo(-0.2 * scene.perMm, 0);
  });
  it('is as wide between its limits as it may be out', () => {
    expect(scene.sideways.outer - scene.sideways.inner).toBeCloseTo(0.5 * scene.perMm);
  });
  it('keeps its rings apart and everything inside the square', () => {
    expect(scene.upright.radius + 0.05 * 600).toBeLessThan(scene.sideways.radius - 0.05 * 600);
    for (const spoke of scene.spokes) {
      for (const at of spoke.mark) {
        expect(at - scene.markRadius).toBeGreaterThanOrEqual(0);
        expect(at + scene.markRadius).toBeLessThanOrEqual(600);
      }
    }
  });
  it('turns its arrows the way the nipple goes', () => {
    expect(turnArrow([0, 0], 10, true)).toMatch(/A10 10 0 0 1/);
    expect(turnArrow([0, 0], 10, false)).toMatch(/A10 10 0 0 0/);
  });
  it('strikes through the rim where it is bent, and only then', () => {
    expect(scene.bent).toBeUndefined();
    const [from_, to] = wheelScene({ ...wheel, bent_at_deg: 90 }, 600).bent!;
    expect(from_[1]).toBeCloseTo(300);
    expect(to[0]).toBeGreaterThan(scene.sideways.outer + 300 - 1);
  });
  it('shows a round length as its scale', () => {
    expect(barLength(50, 60)).toBe(1);
    expect(barLength(200, 60)).toBe(0.2);
  });
});

describe('the tensions as bars', () => {
  const scene = tensionScene(wheel, 400);
  it('stand in the order of the spokes, all under the limit that leads', () => {
    expect(scene.bars.map((bar) => bar.number)).toEqual([1, 2, 3, 4]);
    for (const bar of scene.bars) expect(bar.now).toBeGreaterThan(scene.limit);
  });
  it('have whiskers of one uncertainty either way', () => {
    const [high, low] = scene.bars[0]!.whisker;
    expect(scene.bars[0]!.now - high).toBeCloseTo(low - scene.bars[0]!.now);
  });
  it('mark what a turn leads to', () => {
    expect(scene.bars.filter((bar) => bar.turned).map((bar) => bar.number)).toEqual([2]);
    expect(scene.bars[1]!.after).toBeGreaterThan(scene.bars[1]!.now);
  });
});
