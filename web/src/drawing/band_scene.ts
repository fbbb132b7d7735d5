import type { Band } from '../ask/ask';

/** Round steps, so that three to six of them reach `most`. */
export function roundSteps(most: number): number[] {
  if (!(most > 0)) return [0];
  const rough = most / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((n) => n * power).find((n) => most / n <= 5) ?? rough;
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => Number((i * step).toPrecision(6)));
}

export function bandScene(band: Band, width: number) {
  const left = 52;
  const right = Math.max(left + 1, width - 30);
  const top = 12;
  const bottom = 200;
  const far = band.along.at(-1) || 1;
  const most = Math.max(...band.high, 1e-9);
  const x = (at: number) => left + (at / far) * (right - left);
  const y = (value: number) => bottom - (value / most) * (bottom - top);
  const points = (values: number[]) => values.map((value, i) => `${x(band.along[i] ?? 0).toFixed(1)} ${y(value).toFixed(1)}`);
  const up = points(band.high);
  const down = points(band.low).reverse();
  return {
    left, right, bottom, height: bottom + 32,
    middle: `M${points(band.middle).join('L')}`,
    spread: `M${[...up, ...down].join('L')}Z`,
    levels: roundSteps(most).map((at) => ({ at, y: y(at) })),
    places: roundSteps(far).filter((at) => at > 0).map((at) => ({ at, x: x(at) })),
  };
}
