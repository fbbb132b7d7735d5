import type { OrderView, SheetStep } from '../ask/ask';
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

/** Ends of which a step of the bench sheet wants tensions read. */
export const endsToTrue = (step: Pick<SheetStep, 'values'>): string[] =>
  ['front', 'rear'].filter((end) => step.values.some((value) => value.reading === `tension_tight_${end}`));

/** From the step that trues wheels to the stand. */
export function StandLinks({ order, step }: { order: string; step: Pick<SheetStep, 'values'> }) {
  return (
    <>
      {endsToTrue(step).map((end) => (
        <p key={end}><a class="stand-link" href={truingPath(order, end)}>{t.stand(end)}</a>{' '}<a class="stand-link" href={wheelCardPath(order, end)}>{t.link(end)}</a></p>
      ))}
    </>
  );
}
