import { dayNumber, dayShort } from '../words/day';

/** A ruler of five weeks from today. */
const kDays = 35;
const kWidth = 210;

export const spreadAt = (today: string, day: string) =>
  Math.max(0, Math.min(kWidth, ((dayNumber(day) - dayNumber(today)) / kDays) * kWidth));

/**
 * When a line is here: the bar runs from the day of 50 in 100 to that of 90 in 100, the tick is the
 * day on which it is needed. What lies beyond the ruler ends in an arrow. The words stand beside it.
 */
export function Spread({ today, half, nine, needed }: { today: string; half: string; nine: string; needed: string | null }) {
  const from = spreadAt(today, half);
  const to = Math.max(from + 3, spreadAt(today, nine));
  const beyond = dayNumber(nine) - dayNumber(today) > kDays;
  return (
    <svg class="spread" viewBox={`-4 0 ${kWidth + 12} 22`} width={kWidth + 16} height="22" aria-hidden="true">
      {[0, 7, 14, 21, 28, 35].map((day) => <path key={day} class="week" d={`M${(day / kDays) * kWidth} 9v8`} />)}
      <path class="ruler" d={`M0 13h${kWidth}`} />
      <path class="odds" d={`M${from} 13H${to}`} />
      {beyond && <path class="beyond" d={`M${kWidth - 1} 9l6 4-6 4`} />}
      {needed && <path class="needed" d={`M${spreadAt(today, needed)} 2v18`}><title>{dayShort(needed)}</title></path>}
    </svg>
  );
}
