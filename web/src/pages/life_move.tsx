import { Fragment } from 'preact';
import { useState } from 'preact/hooks';
import { ask, type LifeView, type NextMove, type SayView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { money, symbolOf } from '../words/amount';
import { lifeWords as t } from '../words/life';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { DayField, TextField, TickField } from './field';
import { typedNumber } from './order_form';
import { MovePhotos } from './photos';

type Said = Record<string, string>;

interface SayProps {
  say: SayView;
  value: string;
  onValue: (value: string) => void;
}

/** A tick, a day, an amount or words: as the server wants it said. */
function Say({ say, value, onValue }: SayProps) {
  const { currency } = useShop();
  const label = say.needed ? say.ask : `${say.ask} (${t.mayLeaveOut})`;
  if (say.as === 'yes') {
    return <TickField label={label} value={value === 'yes'} onValue={(on) => onValue(on ? 'yes' : '')} />;
  }
  if (say.as.startsWith('a day')) return <DayField label={label} value={value} onValue={onValue} />;
  if (say.as.startsWith('a budget')) {
    return <TextField label={label} unit={symbolOf(currency)} hint={t.budgetHint} value={value} onValue={onValue} />;
  }
  if (say.as.startsWith('an amount')) {
    return <TextField label={label} unit={symbolOf(currency)} number value={value} onValue={onValue} />;
  }
  const hint = say.as.startsWith('operations') ? t.howToName : '';
  return <TextField label={label} hint={hint} value={value} onValue={onValue} />;
}

const withoutEmpty = (said: Said): Said =>
  Object.fromEntries(Object.entries(said).filter(([, text]) => text.trim() !== ''));

/** What cancelling comes to, line by line. */
function Settled({ order, revision }: { order: string; revision: number }) {
  const { currency } = useShop();
  const { value } = useAnswer(`settlement ${order} ${revision}`, () => ask.settlement(order), () => false);
  if (!value) return null;
  return (
    <div class="settled">
      <p>{value.law} {value.sentence}</p>
      <table>
        <caption class="unseen">{t.settled}</caption>
        <tbody>
          {value.lines.map((line) => (
            <tr key={line.what}><th scope="row">{line.what}</th><td class="num">{money(line.cents, currency, true)}</td><td class="small">{line.why}</td></tr>
          ))}
          <tr class="sum"><th scope="row">{t.settled}</th><td class="num">{money(value.back_cents, currency, true)}</td><td /></tr>
        </tbody>
      </table>
    </div>
  );
}

interface MoveProps {
  view: LifeView;
  move: NextMove;
  onDone: (view: LifeView) => void;
}

/** Everything that goes with one move, and the button that makes it. The server has the last word. */
function MoveForm({ view, move, onDone }: MoveProps) {
  const { currency } = useShop();
  const [said, setSaid] = useState<Said>({});
  const by = useByWhom();
  const [note, setNote] = useState('');
  const [promised, setPromised] = useState('');
  const [deposit, setDeposit] = useState('');
  const { busy, complaint, run } = useDeed<LifeView>(onDone);
  const isAgreeing = move.to === 'Agreed';
  const make = (event: Event) => {
    event.preventDefault();
    const cents = typedNumber(deposit, 100);
    const terms = isAgreeing && { promised: promised || null, deposit_cents: cents === undefined ? null : Math.round(cents ?? 0) };
    void run(() => ask.moveTo(view.order, {
      to: move.to, by: by.who, said: withoutEmpty(said), note: note.trim(), revision: view.revision, ...terms,
    }));
  };
  return (
    <form class="life-move" onSubmit={make} noValidate>
      {move.to === 'Cancelled' && <Settled order={view.order} revision={view.revision} />}
      {move.to_say.map((say) => (
        <Fragment key={say.key}>
          <Say say={say} value={said[say.key] ?? ''} onValue={(text) => setSaid({ ...said, [say.key]: text })} />
          {say.photos_of && <MovePhotos order={view.order} about={say.photos_of} who={by.who} />}
        </Fragment>
      ))}
      {isAgreeing && <DayField label={t.promised} value={promised} onValue={setPromised} />}
      {isAgreeing && <TextField label={t.deposit} unit={symbolOf(currency)} number value={deposit} onValue={setDeposit} />}
      <ByWhomField by={by} label={t.by} people={move.people} nobody={t.nobody} />
      <TextField label={t.note} value={note} onValue={setNote} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy || by.who === ''}>{busy ? t.moving : t.move(move.to)}</button>
    </form>
  );
}

export function Move({ view, move, first, onDone }: MoveProps & { first: boolean }) {
  const { missing, to_meet: toMeet } = move;
  const how = missing.length > 0 ? t.missing(missing.length) : toMeet.length > 0 ? t.beSaid : t.nothingMissing;
  return (
    <details class="life-next" open={first}>
      <summary><b>{move.to}</b>{move.is_back && ` (${t.again})`} <span class="small">{how}</span></summary>
      <p class="small">{t.movedBy(move.moved_by)}</p>
      {missing.length > 0 && <ul class="life-missing">{missing.map((words) => <li key={words}>{words}</li>)}</ul>}
      {missing.length === 0 && toMeet.length > 0 && (
        <><p>{t.toMeet}</p><ul class="life-missing">{toMeet.map((words) => <li key={words}>{words}</li>)}</ul></>
      )}
      {missing.length === 0 && <MoveForm key={view.revision} view={view} move={move} onDone={onDone} />}
    </details>
  );
}
