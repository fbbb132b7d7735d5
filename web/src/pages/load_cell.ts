/** Widths in percent of a cell whose full width is `most` hours. */
export interface Filled {
  there: number;
  planned: number;
  full: boolean;   // nine tenths or more of the hours are taken
}

const kFull = 0.9;
/** Leaves room for the line around the frame. */
const kWidest = 99;

export function filled(planned: number, there: number, most: number): Filled {
  const width = (hours: number) => Math.min(kWidest, Math.round((hours / most) * kWidest * 10) / 10);
  return { there: width(there), planned: width(planned), full: planned > 0 && planned >= kFull * there };
}
