import type { BenchOperation } from '../ask/ask';
import { bench } from '../words/bench';
import { Reason } from './reason';
import { useStand } from './stand';

/** Asks who lends a hand at work that takes several people at once, or why nobody is needed. */
export function LendHand({ operation, busy, onHand, onNobody, onLeave }: {
  operation: BenchOperation; busy: boolean; onHand: (person: string) => void; onNobody: (why: string) => void; onLeave: () => void;
}) {
  const { people, person } = useStand();
  const others = people.filter((one) => one.id !== person?.id && !operation.helpers.includes(one.name));
  return (
    <>
      <section class="reason" aria-labelledby="hand-asked">
        <h2 id="hand-asked">{bench.operation.lendAsk}</h2>
        <ul class="big-choices">
          {others.map((one) => <li key={one.id}><button type="button" disabled={busy} onClick={() => onHand(one.id)}>{one.name}</button></li>)}
        </ul>
      </section>
      <Reason kind="hand" busy={busy} onSay={onNobody} onLeave={onLeave} />
    </>
  );
}
