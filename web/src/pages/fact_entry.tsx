import { useId, useRef, useState } from 'preact/hooks';
import { ask, type FactGiven, type NotKnownFact, Refusal } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { say } from '../words/say';
import { ChoiceField, DayField, TextField } from './field';

const t = say.toMeasure;

/** A fact that a person can enter: of which part, and what it may be. */
export type FactAsked = Pick<NotKnownFact, 'part' | 'of' | 'attribute' | 'name' | 'help' | 'unit' | 'type' | 'words'>;

/** How the facts that are entered now come to be known; the same for one after another. */
export interface Origin {
  standing: 'measured' | 'known';
  by: string;
  source: string;
  day: string;
}

export const factOf = (value: string, origin: Origin): FactGiven => ({
  value, standing: origin.standing, source: origin.source.trim(),
  by: origin.standing === 'measured' ? origin.by : '',
  day: origin.standing === 'known' && origin.day ? origin.day : null,
});

export function OriginFields({ origin, onOrigin }: { origin: Origin; onOrigin: (origin: Origin) => void }) {
  const { people } = useShop();
  const measured = origin.standing === 'measured';
  return (
    <div class="origin">
      <ChoiceField label={t.how} value={origin.standing} options={[['measured', t.measured], ['known', t.known]]}
        onValue={(standing) => onOrigin({ ...origin, standing: standing === 'known' ? 'known' : 'measured' })} />
      {measured && (
        <ChoiceField label={t.by} value={origin.by} options={people.map((person) => [person.id, person.name])}
          onValue={(by) => onOrigin({ ...origin, by })} />
      )}
      <TextField label={measured ? t.tool : t.document} value={origin.source} onValue={(source) => onOrigin({ ...origin, source })} />
      {!measured && <DayField label={t.documentDay} value={origin.day} onValue={(day) => onOrigin({ ...origin, day })} />}
    </div>
  );
}

export interface EntryProps {
  fact: FactAsked;
  origin: Origin;
  onSaved: (sentence: string) => void;
}

/** The field of one fact. Enter saves it and goes on to the next. */
export function Entry({ fact, origin, onSaved }: EntryProps) {
  const id = useId();
  const form = useRef<HTMLFormElement>(null);
  const [value, setValue] = useState('');
  const [busy, setBusy] = useState(false);
  const [complaint, setComplaint] = useState('');
  const options = fact.type === 'flag' ? ['yes', 'no'] : fact.type === 'word' ? fact.words : [];
  const common = {
    id, class: 'entry', 'aria-invalid': complaint !== '', 'aria-describedby': `${id}-help${complaint ? ` ${id}-wrong` : ''}`,
  };

  const save = async (event: Event) => {
    event.preventDefault();
    if (busy || value.trim() === '') return;
    setBusy(true);
    setComplaint('');
    try {
      const part = await ask.measureFact(fact.part, fact.attribute, factOf(value.trim(), origin));
      const now = part.facts.find((held) => held.attribute === fact.attribute);
      const next = form.current?.closest('li')?.nextElementSibling?.querySelector<HTMLElement>('.entry');
      onSaved(t.saved(fact.name, fact.of, now?.value ?? value));
      next?.focus();
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setComplaint(error.view.sentence);
    } finally {
      setBusy(false);
    }
  };

  return (
    <form class="entering" ref={form} onSubmit={save} noValidate>
      <label for={id}>{fact.name}{fact.unit && <span class="unit"> ({fact.unit})</span>}</label>
      {options.length > 0
        ? (
          <select {...common} value={value} onChange={(event) => setValue(event.currentTarget.value)}>
            <option value="" />
            {options.map((word) => <option key={word} value={word}>{word}</option>)}
          </select>
        )
        : <input {...common} type="text" value={value} autocomplete="off" inputMode={fact.type === 'number' ? 'decimal' : undefined}
            onInput={(event) => setValue(event.currentTarget.value)} />}
      <button type="submit" class="do" disabled={busy || value.trim() === ''}>{t.save}<span class="unseen"> {fact.name}, {fact.of}</span></button>
      {complaint && <p id={`${id}-wrong`} class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {complaint}</p>}
      <p id={`${id}-help`} class="hint">{fact.help} {fact.type === 'words' && fact.words.length > 0 && t.several(fact.words)}</p>
    </form>
  );
}

export const useOrigin = () => {
  const { people } = useShop();
  return useState<Origin>({ standing: 'measured', by: people[0]?.id ?? '', source: '', day: '' });
};
