import type { WheelOnStand } from '../ask/ask';
import { roundSteps } from './band_scene';

/** Tensions as bars side by side in the order around the rim. */
export interface TensionBar {
  number: number;
  side: string;
  x: number;      // of its middle
  now: number;    // y of the top of the bar
  after: number;  // y of what is expected
  whisker: [number, number];  // y of one standard uncertainty up and down
  target: number;
  turned: boolean;
  label: boolean;
}
export interface TensionScene {
  height: number;
  left: number;
  right: number;
  bottom: number;
  barWidth: number;
  limit: number;  // y
  bars: TensionBar[];
  levels: { at: number; y: number }[];
}

export function tensionScene(wheel: WheelOnStand, width: number): TensionScene {
  const left = 56;
  const right = Math.max(left + 1, width - 8);
  const top = 22;
  const bottom = 196;
  const most = Math.max(wheel.limits.highest_n,
    ...wheel.spokes.map((spoke) => Math.max(spoke.now_n + spoke.now_uncertainty_n, spoke.after_n)));
  const y = (newton: number) => bottom - (Math.max(0, newton) / most) * (bottom - top);
  const step = (right - left) / Math.max(1, wheel.spokes.length);
  const every = step >= 22 ? 1 : step >= 11 ? 2 : 4;
  return {
    height: bottom + 30, left, right, bottom, barWidth: Math.min(18, step * 0.55),
    limit: y(wheel.limits.highest_n),
    bars: wheel.spokes.map((spoke, i) => ({
      number: spoke.number, side: spoke.side, x: left + (i + 0.5) * step,
      now: y(spoke.now_n), after: y(spoke.after_n), target: y(spoke.target_n),
      whisker: [y(spoke.now_n + spoke.now_uncertainty_n), y(spoke.now_n - spoke.now_uncertainty_n)],
      turned: spoke.quarters !== 0, label: i % every === 0,
    })),
    levels: roundSteps(most).map((at) => ({ at, y: y(at) })),
  };
}
