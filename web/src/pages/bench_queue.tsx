import { useState } from 'preact/hooks';
import type { BenchPerson } from '../ask/ask';
import { isSamePlace, type PhotoOf } from '../ask/waiting_photos';
import { refusedOf, waitingOf, waitsBehind, type Write } from '../ask/waiting_writes';
import { keeps, reached, throwAway, tryAgain, tryNow, writes } from '../ask/write_down';
import { offline } from '../ask/offline';
import { forgetPhoto, waitingPhotos } from '../ask/photos_down';
import { isHere, whoAsks } from '../ask/who_asks';
import { useConnected } from '../frame/connected';
import { useStore } from '../frame/store';
import { Mark } from '../marks/mark';
import { bench } from '../words/bench';
import { clockHere } from '../words/day';
import { photos as photoWords } from '../words/photos';

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

/** Photographs of this browser: how many wait, and which the server said no to; but for those shown below. */
function Photographs({ below }: { below: PhotoOf | undefined }) {
  const all = useStore(waitingPhotos).filter((photo) => !below || !isSamePlace(photo.of, below));
  const waiting = all.filter((photo) => photo.isWaiting && isHere(photo.by));
  const kept = waiting.filter((photo) => photo.isKept).length;
  return (
    <>
      {kept > 0 && <p class="away"><Mark shape="dashes" tone="care" /> {photoWords.waits(kept)}</p>}
      {waiting.length > kept && <p class="away"><Mark shape="triangle" tone="care" /> {photoWords.notKept(waiting.length - kept)}</p>}
      {all.filter((photo) => photo.refused !== '').map((photo) => (
        <p key={photo.key} class="away" role="alert">
          <Mark shape="cross" tone="stop" /> {photo.of.kind === 'bike' ? photoWords.isOf.bike(photo.of.order, photo.of.about) : photoWords.isOf.goods(photo.of.line)}: {photo.refused}{' '}
          <button type="button" class="plain" onClick={() => forgetPhoto(photo.key)}>{photoWords.forget}</button>
        </p>
      ))}
    </>
  );
}

/** Whose writes and photographs wait for them to sign in, and how many. */
function OfOthers({ people }: { people: BenchPerson[] }) {
  useStore(whoAsks);
  const nameOf = (id: string) => people.find((one) => one.id === id)?.name ?? id;
  const counted = (ids: string[]) => [...new Set(ids)].map((id) => ({ id, n: ids.filter((one) => one === id).length }));
  const away = (who: string) => who !== '' && !isHere(who);
  const written = counted(waitingOf(useStore(writes)).map((write) => write.who).filter(away));
  const taken = counted(useStore(waitingPhotos).filter((photo) => photo.isWaiting).map((photo) => photo.by).filter(away));
  return (
    <>
      {written.map(({ id, n }) => <p key={id} class="away"><Mark shape="dashes" tone="care" /> {t.ofOthers(n, nameOf(id))}</p>)}
      {taken.map(({ id, n }) => <p key={id} class="away"><Mark shape="dashes" tone="care" /> {photoWords.ofOthers(n, nameOf(id))}</p>)}
    </>
  );
}

interface BenchQueueProps {
  people: BenchPerson[];
  asOf: string;  // up to when what the page shows is known to be so
  below?: PhotoOf | undefined;  // whose photographs the page shows itself
}

/** What was written here and is not in the record: what waits, and what the server said no to. */
export function BenchQueue({ people, asOf, below }: BenchQueueProps) {
  const all = useStore(writes);
  const isReached = useStore(reached);
  const isKept = useStore(keeps);
  const connected = useConnected();
  const loads = useStore(offline);
  const waiting = waitingOf(all);
  const refused = refusedOf(all);
  const away = !connected || (!isReached && waiting.length > 0);
  const tried = waiting.some((write) => write.tries > 0 || waitsBehind(write, all, isHere) !== undefined) && waiting.some((write) => isHere(write.who));
  return (
    <div class="bench-queue">
      <div role="status">
        {away && <p class="away"><Mark shape="dashes" tone="care" /> {t.away(waiting.length, connected ? '' : clockHere(asOf))} {!connected && loads !== 'ready' && t.keepOpen[loads]} {waiting.length > 0 && <button type="button" class="plain" onClick={tryNow}>{t.again}</button>}</p>}
        {!away && tried && <p class="away"><Mark shape="dashes" tone="care" /> {t.sending(waiting.length)}</p>}
        {!isKept && all.length > 0 && <p class="away"><Mark shape="triangle" tone="care" /> {t.forgetful}</p>}
        <OfOthers people={people} />
        <Photographs below={below} />
      </div>
      {refused.length > 0 && (
        <section class="not-taken" aria-labelledby="not-taken">
          <h2 id="not-taken">{t.notTaken}</h2>
          <p>{t.notTakenLead}</p>
          <ul>
            {refused.map((write) => (
              <NotTaken key={write.key} write={write} people={people} behind={waiting.filter((one) => waitsBehind(one, all, isHere)?.key === write.key).length} />
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
