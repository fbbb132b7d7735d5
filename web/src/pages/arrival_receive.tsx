import { useState } from 'preact/hooks';
import { ask, type ArrivalLine } from '../ask/ask';
import { Mark } from '../marks/mark';
import { goods as t } from '../words/goods';
import { type Counts, goodOf, kBad, receivedOf, serialsOf } from './arrival_filter';
import { Complaint, Stepper, useDeed } from './deed';
import { ChoiceField, TextField } from './field';

const kWords = { wrong: t.wrong, damaged: t.damaged, hidden: t.hidden, to_look_at: t.look_at };

export function Receive({ line, carriers, onDone }: { line: ArrivalLine; carriers: string[]; onDone: (line: ArrivalLine) => void }) {
  const [counts, setCounts] = useState<Counts>(
    { quantity: line.to_come, to_look_at: 0, wrong: 0, damaged: 0, hidden: 0, missing: 0 });
  const [typed, setTyped] = useState({ serials: '', lot: '', carrier: '', note: '' });
  const { busy, complaint, run } = useDeed(onDone);
  const good = goodOf(counts);
  const plainly = good === line.to_come && counts.missing === 0;
  const save = (event: Event) => {
    event.preventDefault();
    void run(() => ask.receive(line.id, receivedOf(counts, typed)));
  };
  const type = (field: keyof typeof typed) => (value: string) => setTyped({ ...typed, [field]: value });
  return (
    <form class="receive" onSubmit={save} noValidate>
      <h2>{t.came}</h2>
      <p class="receive-caution"><Mark shape="triangle" tone="care" /> {t.caution}</p>
      <Stepper label={t.quantity} value={counts.quantity} most={line.to_come} onValue={(quantity) => setCounts({ ...counts, quantity })} />
      <details class="not-right" open={!plainly && counts.quantity > 0 ? true : undefined}>
        <summary>{t.some}</summary>
        {kBad.map((kind) => (
          <Stepper key={kind} label={kWords[kind]} value={counts[kind]} most={counts.quantity} onValue={(value) => setCounts({ ...counts, [kind]: value })} />
        ))}
        <Stepper label={t.missing} value={counts.missing} most={line.to_come} onValue={(missing) => setCounts({ ...counts, missing })} />
        <ChoiceField label={t.carrier} value={typed.carrier} options={[['', t.asLine], ...carriers.map((one): [string, string] => [one, one])]} onValue={type('carrier')} />
        <TextField label={t.note} value={typed.note} onValue={type('note')} />
      </details>
      {line.asks_serial && good > 0 && (
        <TextField label={t.serials(good)} lines={Math.max(2, good)} value={typed.serials} onValue={type('serials')}
          hint={`${t.serialHint} ${serialsOf(typed.serials).length} / ${good}`} />
      )}
      {good > 0 && <TextField label={t.lot} value={typed.lot} onValue={type('lot')} />}
      <Complaint words={complaint} />
      <p class="quiet">{t.goodNow(good)}</p>
      <button type="submit" class="do large" disabled={busy}>{plainly ? t.allGood(line.to_come) : t.bookIn}</button>
    </form>
  );
}
