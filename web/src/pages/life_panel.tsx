import { useState } from 'preact/hooks';
import { ask, type FreezeView, type LifeView } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { Body } from '../marks/waiting';
import { money } from '../words/amount';
import { dayInWords } from '../words/day';
import { lifeWords as t } from '../words/life';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { TextField } from './field';
import { Flags } from './life_flags';
import { Move } from './life_move';

interface PartProps {
  view: LifeView;
  onDone: (view: LifeView) => void;
}

/** The next version, for the price that is shown to the customer. */
function Signing({ view, onDone }: PartProps) {
  const { currency, people } = useShop();
  const [name, setName] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<LifeView>(onDone);
  const price = money(view.price_to_sign_cents, currency, true);
  const sign = (event: Event) => {
    event.preventDefault();
    void run(() => ask.signSpec(view.order, {
      signed_by: name.trim(), by: by.who, price_cents: view.price_to_sign_cents, revision: view.revision,
    }));
  };
  return (
    <form class="life-move" onSubmit={sign} noValidate>
      <TextField label={t.signedBy} value={name} onValue={setName} />
      <ByWhomField by={by} label={t.inPresence} people={people} nobody={t.nobody} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy || by.who === '' || name.trim() === ''}>{t.signNow(price)}</button>
    </form>
  );
}

const kBeforeOffer = ['Enquiry', 'Draft'];

function Versions({ view, onDone }: PartProps) {
  const { currency } = useShop();
  const open = view.signed_version === 0 || view.changed_since_signed.length > 0;
  return (
    <details class="life-more">
      <summary>{t.signed} <span class="num">{view.signed_version || ''}</span></summary>
      {view.signed_version === 0 && <p class="small">{t.notSigned}</p>}
      {view.signed_version > 0 && view.versions.length === 0 && <p class="small">{t.signedBefore(view.signed_version)}</p>}
      {view.changed_since_signed.length > 0 && (
        <><p>{t.changedSince}</p><ul>{view.changed_since_signed.map((line) => <li key={line}>{line}</li>)}</ul></>
      )}
      {open && !kBeforeOffer.includes(view.state) && view.next.length > 0 && (
        <details><summary>{t.sign}</summary><Signing key={view.revision} view={view} onDone={onDone} /></details>
      )}
      <ol>
        {view.versions.map((version) => (
          <li key={version.version}>
            <p>{t.version(version.version, version.signed_by, version.day)} <span class="num">{money(version.price_cents, currency, true)}</span></p>
            {version.differences.length > 0 && <ul>{version.differences.map((line) => <li key={line}>{line}</li>)}</ul>}
          </li>
        ))}
      </ol>
    </details>
  );
}

const counted = (parts: FreezeView[]) => {
  const points = [...new Set(parts.map((part) => part.point))].sort();
  return points.map((point) => t.freezeCount(point, parts.filter((part) => part.point === point).length)).join(', ');
};

function Freeze({ parts }: { parts: FreezeView[] }) {
  if (parts.length === 0) return null;
  return (
    <details class="life-more">
      <summary>{t.freeze} <span class="small">{counted(parts)}</span></summary>
      <table>
        <caption class="unseen">{t.freeze}</caption>
        <tbody>
          {parts.map((part) => (
            <tr key={part.slot}>
              <th scope="row">{part.slot_name}</th><td class="num">{part.point}</td><td>{part.word}</td><td class="small">{part.why}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function Moves({ view }: { view: LifeView }) {
  return (
    <details class="life-more">
      <summary>{t.moves} <span class="num">{view.moves.length || ''}</span></summary>
      {view.moves.length === 0 && <p class="small">{t.noMoves}</p>}
      <ol>
        {view.moves.map((moved) => (
          <li key={moved.number}>
            <p><b>{t.moved(moved.from, moved.to)}</b>, {moved.by}, {dayInWords(moved.day)}{moved.note && `: ${moved.note}`}</p>
            {moved.said.length > 0 && (
              <details><summary>{t.movedWith}</summary><ul>{moved.said.map((said) => <li key={said.ask}>{said.ask}: {said.said}</li>)}</ul></details>
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}

function Life({ view, onDone }: PartProps) {
  return (
    <>
      <p role="status">{view.done.length > 0 ? view.done.join(' ') : ''}</p>
      {view.next.length === 0 && <p>{view.sentence}</p>}
      {view.next.map((move, i) => <Move key={`${view.state} ${move.to}`} view={view} move={move} first={i === 0} onDone={onDone} />)}
      <Flags view={view} onDone={onDone} />
      <Versions view={view} onDone={onDone} />
      <Freeze parts={view.freeze} />
      <Moves view={view} />
    </>
  );
}

/** Longer than a choice takes to be painted: the life of the order does not get in its way. */
const kCalm = 600;  // milliseconds

/** What is next for an order, and what is missing. */
export function LifePanel({ id, again }: { id: string; again: () => void }) {
  const answered = useAnswer(`life ${id}`, () => ask.life(id), concernsOrder(id), kCalm);
  const done = (view: LifeView) => {
    answered.put(view);
    again();
  };
  return (
    <section class="life" aria-labelledby="what-is-next">
      <h2 id="what-is-next">{t.title}</h2>
      <Body answered={answered}>{(view) => <Life view={view} onDone={done} />}</Body>
    </section>
  );
}
