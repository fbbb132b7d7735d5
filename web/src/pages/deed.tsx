import { useState } from 'preact/hooks';
import { Refusal } from '../ask/ask';
import { Mark } from '../marks/mark';
import { goods as t } from '../words/goods';

/** Does a deed once, and keeps what the server says against it. */
export function useDeed<Answer>(onDone: (answer: Answer) => void) {
  const [busy, setBusy] = useState(false);
  const [complaint, setComplaint] = useState('');
  const run = async (deed: () => Promise<Answer>) => {
    if (busy) return;
    setBusy(true);
    setComplaint('');
    try {
      onDone(await deed());
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setComplaint(error.view.sentence);
    } finally {
      setBusy(false);
    }
  };
  return { busy, complaint, run };
}

export const Complaint = ({ words }: { words: string }) => (
  words ? <p class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {words}</p> : null
);

/** A number with large keys beside it: for a thumb, a glove or the keyboard. */
export function Stepper({ label, value, most, onValue }: { label: string; value: number; most: number; onValue: (value: number) => void }) {
  const set = (next: number) => onValue(Math.max(0, Math.min(most, next)));
  return (
    <div class="stepper" role="group" aria-label={label}>
      <span class="stepper-of">{label}</span>
      <button type="button" aria-label={`${t.less}: ${label}`} disabled={value <= 0} onClick={() => set(value - 1)}>−</button>
      <input type="text" inputMode="numeric" aria-label={label} value={String(value)}
        onInput={(event) => set(Number.parseInt(event.currentTarget.value, 10) || 0)} onFocus={(event) => event.currentTarget.select()} />
      <button type="button" aria-label={`${t.more}: ${label}`} disabled={value >= most} onClick={() => set(value + 1)}>+</button>
    </div>
  );
}
