import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { Mark } from '../marks/mark';
import { dayInWords } from '../words/day';

export interface FieldProps {
  label: string;
  unit?: string;
  hint?: ComponentChildren;
  complaint?: string | undefined;
  value: string;
  onValue: (value: string) => void;
}

interface Around extends Omit<FieldProps, 'value' | 'onValue'> {
  children: (ids: { id: string; describedBy: string | undefined; invalid: boolean }) => ComponentChildren;
}

/** A label above, its field with the unit, and what is wrong with it right below. */
export function Around({ label, unit, hint, complaint, children }: Around) {
  const id = useId();
  const describedBy = [hint && `${id}-hint`, complaint && `${id}-wrong`].filter(Boolean).join(' ');
  return (
    <div class={complaint ? 'field wrong' : 'field'}>
      <label for={id}>{label}{unit && <span class="unit"> ({unit})</span>}</label>
      {children({ id, describedBy: describedBy || undefined, invalid: complaint !== undefined })}
      {hint && <p id={`${id}-hint`} class="hint">{hint}</p>}
      {complaint && <p id={`${id}-wrong`} class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {complaint}</p>}
    </div>
  );
}

export function TextField(props: FieldProps & { number?: boolean; lines?: number }) {
  const { value, onValue, number, lines, ...around } = props;
  return (
    <Around {...around}>
      {({ id, describedBy, invalid }) => lines
        ? <textarea id={id} rows={lines} value={value} aria-describedby={describedBy} aria-invalid={invalid}
            onInput={(event) => onValue(event.currentTarget.value)} />
        : <input id={id} type="text" value={value} autocomplete="off" aria-describedby={describedBy}
            aria-invalid={invalid} inputMode={number ? 'decimal' : undefined} class={number ? 'num' : undefined}
            onInput={(event) => onValue(event.currentTarget.value)} />}
    </Around>
  );
}

/** A file of this machine, taken as it is. */
export function FileField({ onFile, ...around }: Omit<FieldProps, 'value' | 'onValue'> & { onFile: (file: File | undefined) => void }) {
  return (
    <Around {...around}>
      {({ id, describedBy, invalid }) => (
        <input id={id} type="file" aria-describedby={describedBy} aria-invalid={invalid}
          onChange={(event) => onFile(event.currentTarget.files?.[0])} />
      )}
    </Around>
  );
}

/** The browser writes the day its own way; the hint says it in words. */
export function DayField({ value, onValue, hint = '', ...around }: FieldProps) {
  return (
    <Around {...around} hint={value ? dayInWords(value) : hint}>
      {({ id, describedBy, invalid }) => (
        <input id={id} type="date" value={value} aria-describedby={describedBy} aria-invalid={invalid}
          onInput={(event) => onValue(event.currentTarget.value)} />
      )}
    </Around>
  );
}

export function ChoiceField(props: FieldProps & { options: [value: string, shown: string][] }) {
  const { value, onValue, options, ...around } = props;
  return (
    <Around {...around}>
      {({ id, describedBy, invalid }) => (
        <select id={id} value={value} aria-describedby={describedBy} aria-invalid={invalid}
          onChange={(event) => onValue(event.currentTarget.value)}>
          {options.map(([option, shown]) => <option key={option} value={option}>{shown}</option>)}
        </select>
      )}
    </Around>
  );
}

export function TickField({ label, value, onValue }: { label: string; value: boolean; onValue: (value: boolean) => void }) {
  return (
    <label class="tick">
      <input type="checkbox" checked={value} onChange={(event) => onValue(event.currentTarget.checked)} /> {label}
    </label>
  );
}
