import { ask, type CareDueLine, type ComingBackView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { carePath } from '../frame/route';
import { Mark } from '../marks/mark';
import { SomeOf } from '../marks/some_of';
import { Body } from '../marks/waiting';
import { careWords as t } from '../words/care';
import { dayInWords, dayShort } from '../words/day';
import { Remind } from './care_remind';

const kAtOnce = 40;

function Due({ line, today, onTold }: { line: CareDueLine; today: string; onTold: () => void }) {
  const late = line.to < today;
  return (
    <li>
      <p class="whose"><a href={carePath(line.order)}><b>{line.order}</b> {line.rider}</a> <span class="quiet">{line.contact || t.noContact}</span></p>
      <div>
        <p>{line.visits.join(', ')}</p>
        <p class="quiet">{line.because}</p>
      </div>
      <div>
        <p class="when">{late && <span class="marked care"><Mark shape="triangle" tone="care" /> {t.late}</span>} {t.window(dayShort(line.from), dayShort(line.to))}</p>
        {line.reminded && <p>{t.told(dayInWords(line.reminded), line.said)}</p>}
      </div>
      {line.to_be_told ? <Remind order={line.order} onTold={onTold} /> : <span />}
    </li>
  );
}

function AllDue({ view, onTold }: { view: ComingBackView; onTold: () => void }) {
  if (view.due.length === 0) return <p>{t.nobody}</p>;
  return (
    <SomeOf list={view.due} atOnce={kAtOnce}>
      {(shown) => <ul class="coming-back">{shown.map((line) => <Due key={line.order} line={line} today={view.day} onTold={onTold} />)}</ul>}
    </SomeOf>
  );
}

/** Every bike that is here for a visit or should come back, and which riders were told. */
export function ComingBackPage() {
  const answered = useAnswer('coming back', ask.comingBack);
  return (
    <div class="page care-page">
      <div class="title-line"><h1>{t.all}</h1></div>
      <p class="lead">{t.allLead}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p role="status">{view.sentence}</p>
            {view.here.length > 0 && (
              <section>
                <h2>{t.allHere}</h2>
                <ul class="coming-back here">
                  {view.here.map((line) => <li key={line.order}><a href={carePath(line.order)}><b>{line.order}</b> {line.rider}</a> <span>{t.hereSince(line.about, dayInWords(line.since))}</span></li>)}
                </ul>
              </section>
            )}
            <section>
              <h2>{t.allDue}</h2>
              <AllDue view={view} onTold={answered.again} />
            </section>
          </>
        )}
      </Body>
    </div>
  );
}
