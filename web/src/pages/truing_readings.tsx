import { useRef, useState } from 'preact/hooks';
import { say } from '../words/say';
import { ChoiceField } from './field';
import { kPlaces, otherSign, readCount, spokeAt, type StandState, withPlaces } from './truing_state';

const t = say.truing;

type Row = 'lateral' | 'radial' | 'tensions';
type Change = (change: Partial<StandState>) => void;

const kKeys = ['7', '8', '9', '4', '5', '6', '1', '2', '3'];

/** Large keys for gloves; the field that was touched last takes what they say. */
function Pad({ onText }: { onText: (change: (text: string) => string) => void }) {
  const stay = (event: Event) => event.preventDefault();  // the field keeps the focus
  const type = (key: string) => onText((text) => text + key);
  return (
    <div class="pad" role="group" aria-label={t.pad} onPointerDown={stay} onMouseDown={stay}>
      {kKeys.map((key) => <button key={key} class={`k${key}`} type="button" onClick={() => type(key)}>{key}</button>)}
      <button type="button" class="sign" aria-label={t.sign} onClick={() => onText(otherSign)}>±</button>
      <button type="button" class="k0" onClick={() => type('0')}>0</button>
      <button type="button" class="point" aria-label={t.point} onClick={() => type('.')}>.</button>
      <button type="button" class="wide" onClick={() => onText((text) => text.slice(0, -1))}>{t.erase}</button>
      <button type="button" class="next" data-next>{t.next}</button>
    </div>
  );
}

interface GridProps {
  row: Row;
  values: string[];
  label: (index: number) => string;
  under: (index: number) => string | undefined;
  wrong: boolean;
  onValue: (index: number, text: string) => void;
  onFocus: (row: Row, index: number) => void;
}

function Grid({ row, values, label, under, wrong, onValue, onFocus }: GridProps) {
  return (
    <div class="reading-grid">
      {values.map((value, i) => (
        <label key={i} class={wrong ? 'reading wrong' : 'reading'}>
          <span>{under(i) ?? i + 1}</span>
          <input type="text" inputMode="none" autocomplete="off" value={value} data-row={row} data-index={i}
            aria-label={label(i)} onFocus={() => onFocus(row, i)}
            onInput={(event) => onValue(i, event.currentTarget.value)} />
        </label>
      ))}
    </div>
  );
}

/** The field after this one in the page, whatever row it stands in. */
function fieldAfter(form: HTMLElement, row: Row, index: number): HTMLInputElement | undefined {
  const fields = [...form.querySelectorAll<HTMLInputElement>('input[data-row]')].filter((field) => field.offsetParent);
  const at = fields.findIndex((field) => field.dataset['row'] === row && Number(field.dataset['index']) === index);
  return fields[at + 1];
}

const replaced = (values: string[], index: number, text: string) =>
  values.map((value, i) => (i === index ? text : value));

interface ReadingsProps {
  state: StandState;
  spokes: number;
  field: string | undefined;  // that the server found wrong
  onChange: Change;
}

export function Readings({ state, spokes, field, onChange }: ReadingsProps) {
  const form = useRef<HTMLFormElement>(null);
  const [active, setActive] = useState<{ row: Row; index: number }>({ row: 'lateral', index: 0 });
  const [open] = useState(readCount(state.tensions) > 0);
  const tensions = Array.from({ length: spokes }, (_, i) => state.tensions[i] ?? '');
  const valuesOf = (row: Row) => (row === 'tensions' ? tensions : state[row]);
  const set = (row: Row, index: number, text: string) => onChange({ [row]: replaced(valuesOf(row), index, text) });
  const onFocus = (row: Row, index: number) => setActive({ row, index });
  const next = () => form.current && fieldAfter(form.current, active.row, active.index)?.focus();
  const { row, index } = active;
  const places = state.lateral.length;
  const atSpokes = spokes % places === 0;
  const under = (i: number) => {
    const spoke = atSpokes ? spokeAt(i, places, spokes) : undefined;
    return spoke ? t.atSpoke(spoke) : undefined;
  };
  const ring = (of: 'lateral' | 'radial', title: string, hint: string) => (
    <fieldset>
      <legend>{title} <span class="small">{hint}; {t.read(readCount(state[of]), places)}</span></legend>
      <Grid row={of} values={state[of]} under={under} label={(i) => `${title}, ${t.place(i + 1)}`} wrong={field === of}
        onValue={(i, text) => set(of, i, text)} onFocus={onFocus} />
    </fieldset>
  );
  return (
    <form class="readings" ref={form} noValidate onSubmit={(event) => { event.preventDefault(); next(); }}
      onClick={(event) => { if ((event.target as Element).closest('[data-next]')) next(); }}>
      <div class="reading-rows">
        {ring('lateral', t.sideways, t.sidewaysHint)}
        {ring('radial', t.upright, t.uprightHint)}
        <details open={open}>
          <summary>{t.tensions} <span class="small">{t.tensionsRead(readCount(state.tensions), spokes)}</span></summary>
          <Grid row="tensions" values={tensions} under={() => undefined} label={(i) => t.tension(i + 1)} wrong={field === 'tensions'}
            onValue={(i, text) => set('tensions', i, text)} onFocus={onFocus} />
        </details>
        <div class="pair">
          <label class="field dish"><span>{t.dish}</span>
            <input type="text" inputMode="decimal" autocomplete="off" value={state.dish} aria-describedby="dish-hint"
              onInput={(event) => onChange({ dish: event.currentTarget.value })} />
            <span class="hint" id="dish-hint">{t.dishHint}</span>
          </label>
          <ChoiceField label={t.places} value={String(places)} options={kPlaces.map((n) => [String(n), String(n)])}
            onValue={(text) => onChange(withPlaces(state, Number(text)))} />
        </div>
      </div>
      <Pad onText={(change) => set(row, index, change(valuesOf(row)[index] ?? ''))} />
    </form>
  );
}
