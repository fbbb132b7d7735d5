import { dayNumber, dayShort } from '../words/day';

/** A ruler of five weeks from today; a line that is looked at alone may take a longer one. */
const kRulers = [35, 70, 140];
const kWidth = 210;

/** Days of the shortest ruler that holds them all, else of the longest. */
export const rulerFor = (today: string, days: string[]) => {
  const most = Math.max(...days.map((day) => dayNumber(day) - dayNumber(today)));
  return kRulers.find((ruler) => most <= ruler) ?? 140;
};

export const spreadAt = (today: string, day: string, ruler = 35) =>
  Math.max(0, Math.min(kWidth, ((dayNumber(day) - dayNumber(today)) / ruler) * kWidth));

/**
 * When a line is here: the bar runs from the day of 50 in 100 to that of 90 in 100, the tick is the
 * day on which it is needed. What lies beyond the ruler ends in an arrow. The words stand beside it.
 */
export function Spread({ today, half, nine, needed, ruler = 35 }: { today: string; half: string; nine: string; needed: string | null; ruler?: number }) {
  const from = spreadAt(today, half, ruler);
  const to = Math.max(from + 3, spreadAt(today, nine, ruler));
  const beyond = dayNumber(nine) - dayNumber(today) > ruler;
  const weeks = Array.from({ length: ruler / 7 + 1 }, (_, i) => i * 7);
  return (
    <svg class="spread" viewBox={`-4 0 ${kWidth + 12} 22`} width={kWidth + 16} height="22" aria-hidden="true">
      {weeks.map((day) => <path key={day} class="week" d={`M${(day / ruler) * kWidth} 9v8`} />)}
      <path class="ruler" d={`M0 13h${kWidth}`} />
      <path class="odds" d={`M${from} 13H${to}`} />
      {beyond && <path class="beyond" d={`M${kWidth - 1} 9l6 4-6 4`} />}
      {needed && <path class="needed" d={`M${spreadAt(today, needed, ruler)} 2v18`}><title>{dayShort(needed)}</title></path>}
    </svg>
  );
}
