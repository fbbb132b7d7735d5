import { useState } from 'preact/hooks';
import { ask, type ArrivalLine } from '../ask/ask';
import { dayShort } from '../words/day';
import { goods as t } from '../words/goods';
import { serialsOf } from './arrival_filter';
import { Complaint, Stepper, useDeed } from './deed';
import { ChoiceField, TextField } from './field';

/** What was booked in together, and setting right what was counted wrong: a further entry of the journal. */
export function Deliveries({ line, onDone }: { line: ArrivalLine; onDone: (line: ArrivalLine) => void }) {
  if (line.deliveries.length === 0) return null;
  return (
    <section>
      <h2>{t.deliveries}</h2>
      <ul class="plain-list">
        {line.deliveries.map((one) => <li key={`${one.day} ${one.pieces}`}>{t.delivery(one.pieces, dayShort(one.day))}{one.condition !== 'good' && `, ${one.condition}`}</li>)}
      </ul>
      <Miscount line={line} onDone={onDone} />
    </section>
  );
}

function Miscount({ line, onDone }: { line: ArrivalLine; onDone: (line: ArrivalLine) => void }) {
  const [at, setAt] = useState(0);
  const delivery = line.deliveries[Math.min(at, line.deliveries.length - 1)];
  const [right, setRight] = useState(delivery?.pieces ?? 0);
  const [typed, setTyped] = useState({ serials: '', right_line: '', why: '' });
  const { busy, complaint, run } = useDeed(onDone);
  if (!delivery) return null;
  const type = (field: keyof typeof typed) => (value: string) => setTyped({ ...typed, [field]: value });
  const choose = (value: string) => {
    setAt(Number(value));
    setRight(line.deliveries[Number(value)]?.pieces ?? 0);
  };
  const fewer = right < delivery.pieces;
  const numbered = line.asks_serial || line.marked.some((marked) => marked.serial);
  const save = (event: Event) => {
    event.preventDefault();
    void run(() => ask.miscounted(line.id, {
      counted: delivery.pieces, right, day: delivery.day, serials: serialsOf(typed.serials),
      right_line: fewer ? typed.right_line.trim() : '', why: typed.why.trim(),
    }));
  };
  return (
    <details class="found-bad miscount">
      <summary>{t.miscounted}</summary>
      <form onSubmit={save} noValidate>
        <p class="quiet">{t.miscountLead}</p>
        {line.deliveries.length > 1 && (
          <ChoiceField label={t.whichDelivery} value={String(at)} onValue={choose}
            options={line.deliveries.map((one, i): [string, string] => [String(i), t.delivery(one.pieces, dayShort(one.day))])} />
        )}
        <Stepper label={t.rightCount(delivery.pieces)} value={right} most={delivery.pieces + line.to_come} onValue={setRight} />
        {numbered && right !== delivery.pieces && (
          <TextField label={fewer ? t.serialsGone : t.serials(right - delivery.pieces)} lines={2} value={typed.serials} onValue={type('serials')} hint={t.serialHint} />
        )}
        {fewer && <TextField label={t.rightLine} value={typed.right_line} onValue={type('right_line')} hint={t.rightLineHint} />}
        <TextField label={t.miscountWhy} value={typed.why} onValue={type('why')} />
        <Complaint words={complaint} />
        <p class="quiet">{t.miscountDoes(delivery.pieces, right)}</p>
        <button type="submit" class="do large" disabled={busy || right === delivery.pieces}>{t.setRight}</button>
      </form>
    </details>
  );
}
