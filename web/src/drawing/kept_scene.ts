import type { KeptBandView } from '../ask/ask';

export interface KeptMark {
  words: string;
  x: number;
  y: number;       // of the share kept
  low: number;     // y of the least that chance explains
  high: number;
  outside: boolean;
}
export interface KeptScene {
  side: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  ticks: { in100: number; x: number; y: number }[];
  marks: KeptMark[];
}

/** A square: the chance said to the right, the share kept upwards. */
export function keptScene(bands: KeptBandView[], width: number): KeptScene {
  const side = Math.min(420, width);
  const [left, right, top, bottom] = [44, side - 12, 12, side - 44];
  const x = (share: number) => left + share * (right - left);
  const y = (share: number) => bottom - share * (bottom - top);
  const marks = bands.filter((band) => band.promises > 0).map((band) => ({
    words: band.words,
    x: x(band.said),
    y: y(band.kept / band.promises),
    low: y(band.least / band.promises),
    high: y(band.most / band.promises),
    outside: band.kept < band.least || band.kept > band.most,
  }));
  const ticks = [0, 25, 50, 75, 100].map((in100) => ({ in100, x: x(in100 / 100), y: y(in100 / 100) }));
  return { side, left, right, top, bottom, ticks, marks };
}
