import type { Scale } from '../ask/ask';

export interface ScaleScene {
  left: number;
  right: number;
  height: number;
  lines: { group: string; y: number; marks: { x: number; label: string; isShown: boolean }[] }[];
  ticks: { at: number; x: number }[];
}

const kLine = 74;    // between two lines
const kRoom = 26;    // for one label
const kTicks = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12];

/** A label that would touch the one before it is left out: its mark stays. */
export function scaleScene(scale: Scale, width: number): ScaleScene {
  const left = 14;
  const right = Math.max(left + 1, width - 14);
  const values = scale.marks.map((mark) => mark.at);
  const bend = (value: number) => (scale.logarithmic ? Math.log(value) : value);
  const low = bend(Math.min(...values));
  const high = bend(Math.max(...values));
  const x = (value: number) =>
    high > low ? left + ((bend(value) - low) / (high - low)) * (right - left) : (left + right) / 2;
  const groups = [...new Set(scale.marks.map((mark) => mark.group))];
  const lines = groups.map((group, i) => {
    let free = -Infinity;
    const marks = scale.marks.filter((mark) => mark.group === group)
      .sort((a, b) => a.at - b.at)
      .map((mark) => {
        const at = x(mark.at);
        const isShown = at >= free;
        if (isShown) free = at + kRoom;
        return { x: at, label: mark.label, isShown };
      });
    return { group, y: 46 + i * kLine, marks };
  });
  const ticks = kTicks.filter((at) => bend(at) >= low && bend(at) <= high).map((at) => ({ at, x: x(at) }));
  return { left, right, height: 46 + (groups.length - 1) * kLine + 52, lines, ticks };
}
