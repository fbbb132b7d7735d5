const kWidth = 150;

/**
 * Pieces to scale, from none to the upper level or what there is: the bar is what lies on the shelf,
 * the open bar behind it what is under way, the tick the level at which it is bought again, the end
 * of the ruler the level up to which. The numbers stand beside it.
 */
export function StockLevel({ here, coming, at, upTo }: { here: number; coming: number; at: number; upTo: number }) {
  const most = Math.max(upTo, here + coming, 1);
  const x = (pieces: number) => (Math.max(0, Math.min(most, pieces)) / most) * kWidth;
  return (
    <svg class="stock-level" viewBox={`-2 0 ${kWidth + 4} 22`} width={kWidth + 4} height="22" aria-hidden="true">
      <path class="ruler" d={`M0 18H${x(upTo)}M0 14v8M${x(upTo)} 14v8`} />
      {coming > 0 && <rect class="coming" x={x(here)} y="7" width={x(here + coming) - x(here)} height="8" />}
      {here > 0 && <rect class="here" x="0" y="6" width={x(here)} height="10" />}
      {at >= 0 && <path class="buy-at" d={`M${x(at)} 2v20`} />}
    </svg>
  );
}
