import { useState } from 'preact/hooks';
import type { BenchPerson } from '../ask/ask';
import { refusedOf, waitingOf, waitsBehind, type Write } from '../ask/waiting_writes';
import { keeps, reached, throwAway, tryAgain, tryNow, writes } from '../ask/write_down';
import { useConnected } from '../frame/connected';
import { useStore } from '../frame/store';
import { Mark } from '../marks/mark';
import { bench } from '../words/bench';
import { clockHere } from '../words/day';

const t = bench.queue;

function NotTaken({ write, people, behind }: { write: Write; people: BenchPerson[]; behind: number }) {
  const [asked, setAsked] = useState(false);
  const who = people.find((one) => one.id === write.who)?.name ?? write.who;
  const at = write.deeds[0]?.at ?? '';
  return (
    <li>
      <p class="what"><Mark shape="cross" tone="stop" /> <b>{write.words}</b> <span class="quiet">{t.of(write.order, who, clockHere(at))}</span></p>
      <p>{write.refused}</p>
      {behind > 0 && <p class="quiet">{t.behind(behind)}</p>}
      <p class="deeds">
        {asked ? (
          <>
            <button type="button" class="big-do stop" onClick={() => throwAway(write.key)}>{t.dropAsk}</button>
            <button type="button" class="big-do plainly" onClick={() => setAsked(false)}>{t.dropKeep}</button>
          </>
        ) : (
          <>
            {write.deeds.length > 0 && <button type="button" class="big-do" onClick={() => tryAgain(write.key)}>{t.again}</button>}
            <button type="button" class="big-do plainly" onClick={() => setAsked(true)}>{t.drop}</button>
          </>
        )}
      </p>
    </li>
  );
}

/** What was written here and is not in the record: what waits, and what the server said no to. */
export function BenchQueue({ people }: { people: BenchPerson[] }) {
  const all = useStore(writes);
  const isReached = useStore(reached);
  const isKept = useStore(keeps);
  const connected = useConnected();
  const waiting = waitingOf(all);
  const refused = refusedOf(all);
  const away = !connected || (!isReached && waiting.length > 0);
  const tried = waiting.some((write) => write.tries > 0 || waitsBehind(write, all) !== undefined);
  return (
    <div class="bench-queue">
      <div role="status">
        {away && <p class="away"><Mark shape="dashes" tone="care" /> {t.away(waiting.length)} {waiting.length > 0 && <button type="button" class="plain" onClick={tryNow}>{t.again}</button>}</p>}
        {!away && tried && <p class="away"><Mark shape="dashes" tone="care" /> {t.sending(waiting.length)}</p>}
        {!isKept && all.length > 0 && <p class="away"><Mark shape="triangle" tone="care" /> {t.forgetful}</p>}
      </div>
      {refused.length > 0 && (
        <section class="not-taken" aria-labelledby="not-taken">
          <h2 id="not-taken">{t.notTaken}</h2>
          <p>{t.notTakenLead}</p>
          <ul>
            {refused.map((write) => (
              <NotTaken key={write.key} write={write} people={people} behind={waiting.filter((one) => waitsBehind(one, all)?.key === write.key).length} />
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
