import { useState } from 'preact/hooks';
import { ask, type ArrivalLine, type BuyGroup, type PlacedView } from '../ask/ask';
import { arrivalPath } from '../frame/route';
import { placing as t } from '../words/placing';
import { Complaint, useDeed } from './deed';
import { DayField, TextField } from './field';

/** What was really ordered, from what was proposed: pieces can differ, and lines can be left out. */
function Form({ group, onDone, onLeave }: { group: BuyGroup; onDone: (placed: PlacedView) => void; onLeave: () => void }) {
  const [pieces, setPieces] = useState<Record<string, string>>(
    Object.fromEntries(group.lines.map((line) => [line.part, String(line.quantity)])));
  const [confirmed, setConfirmed] = useState('');
  const { busy, complaint, run } = useDeed(onDone);
  const save = (event: Event) => {
    event.preventDefault();
    const lines = group.lines
      .map((line) => ({ part: line.part, quantity: Number(pieces[line.part]?.trim() || 0) }))
      .filter((line) => line.quantity !== 0);
    run(() => ask.place({ supplier: group.supplier, lines, confirmed: confirmed || null }));
  };
  return (
    <form class="place-form" onSubmit={save} aria-label={t.form(group.name)}>
      <p class="quiet">{t.how}</p>
      {group.lines.map((line) => (
        <TextField key={line.part} label={`${line.name}, ${line.article || line.part}`} unit={t.pieces} number
          value={pieces[line.part] ?? ''} onValue={(value) => setPieces({ ...pieces, [line.part]: value })} />
      ))}
      <DayField label={t.confirmed} hint={t.confirmedHow} value={confirmed} onValue={setConfirmed} />
      <Complaint words={complaint} />
      <p class="deeds">
        <button type="submit" class="do" disabled={busy}>{t.save}</button>
        <button type="button" class="plain" onClick={onLeave}>{t.leave}</button>
      </p>
    </form>
  );
}

export function PlacePanel({ group, onPlaced }: { group: BuyGroup; onPlaced: (placed: PlacedView) => void }) {
  const [open, setOpen] = useState(false);
  if (!open) {
    return (
      <p class="deeds">
        <button type="button" class="do" onClick={() => setOpen(true)}>{t.ordered}<span class="unseen"> {t.from(group.name)}</span></button>
      </p>
    );
  }
  return <Form group={group} onDone={onPlaced} onLeave={() => setOpen(false)} />;
}

export const Placed = ({ placed }: { placed: PlacedView }) => (
  <p class="placed" role="status">
    {placed.sentence}{' '}
    {placed.lines.map((line) => <a key={line.id} href={arrivalPath(line.id)}>{line.id}</a>)}
  </p>
);

export function GiveUp({ line, onDone }: { line: ArrivalLine; onDone: (line: ArrivalLine) => void }) {
  const [note, setNote] = useState('');
  const { busy, complaint, run } = useDeed(onDone);
  return (
    <details class="give-up">
      <summary>{t.giveUp}</summary>
      <p class="quiet">{t.giveUpLead}</p>
      <TextField label={t.giveUpNote} value={note} onValue={setNote} />
      <Complaint words={complaint} />
      <p class="deeds"><button type="button" class="plain" disabled={busy} onClick={() => run(() => ask.giveUp(line.id, note))}>{t.giveUp}</button></p>
    </details>
  );
}
