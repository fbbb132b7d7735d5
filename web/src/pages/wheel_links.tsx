import type { OrderView } from '../ask/ask';
import { truingPath, wheelCardPath } from '../frame/route';
import { say } from '../words/say';

const t = say.wheelCard;

/** Ends whose wheel is laced from a hub and a rim of this order. */
export function lacedEnds(view: Pick<OrderView, 'spec'>): string[] {
  const chosen = (slot: string) => view.spec.slots.some((one) => one.slot === slot && one.part);
  return ['front', 'rear'].filter((end) => chosen(`${end}_hub`) && chosen(`${end}_rim`));
}

/** The papers of the wheels that are laced here. */
export function WheelLinks({ view }: { view: OrderView }) {
  const ends = lacedEnds(view);
  if (ends.length === 0) return null;
  return (
    <p class="papers" role="group" aria-label={t.links}>
      {ends.map((end) => (
        <span key={end}>
          <a href={wheelCardPath(view.line.id, end)}>{t.link(end)}</a> <a href={truingPath(view.line.id, end)}>{t.stand(end)}</a>{' '}
        </span>
      ))}
    </p>
  );
}
