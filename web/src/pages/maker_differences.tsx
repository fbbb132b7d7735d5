import { useState } from 'preact/hooks';
import { ask, type DifferenceView, type MakerView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import type { Shape, Tone } from '../marks/shape_of';
import { money, symbolOf } from '../words/amount';
import { makerWords as t } from '../words/maker';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { ChoiceField, TextField, TickField } from './field';
import { typedNumber } from './order_form';

const kStandings: Record<string, [Shape, Tone]> = { open: ['ring', 'care'], accepted: ['tick', 'ink'], denied: ['struck square', 'stop'] };

const signed = (number: number, digits: number) => `${number > 0 ? '+' : number < 0 ? '−' : ''}${Math.abs(number).toFixed(digits)}`;

/** One difference, what the rules say of it, and whether it is among those to be answered now. */
function Difference({ one, picked, onPick }: { one: DifferenceView; picked: boolean; onPick: (on: boolean) => void }) {
  const { currency } = useShop();
  const [shape, tone] = kStandings[one.standing] ?? ['nothing', 'ink'];
  const price = one.list_price_change_cents;
  return (
    <li data-difference={one.key}>
      <span class={`marked ${tone}`}><Mark shape={shape} tone={tone} /> <span class="word">{one.standing}</span></span> <b>{one.sentence}</b>
      {one.answered && <p class="small">{one.answered}</p>}
      {one.stops.length > 0 && <><p><Mark shape="struck square" tone="stop" /> {t.stopsIt}:</p><ul>{one.stops.map((words) => <li key={words}>{words}</li>)}</ul></>}
      {one.warns.length > 0 && <><p class="small">{t.warns}:</p><ul class="small">{one.warns.map((words) => <li key={words}>{words}</li>)}</ul></>}
      {(one.mass_change_kg !== null || price !== null) && (
        <p class="small">
          {one.mass_change_kg !== null && `${t.mass}: ${signed(one.mass_change_kg, 3)} kg. `}
          {price !== null && `${t.price}: ${price > 0 ? '+' : ''}${money(price, currency, true)}.`}
        </p>
      )}
      {one.standing !== 'accepted' && one.stops.length === 0 && <p class="small quiet">{one.is_new_version ? t.newVersion : t.byWords}</p>}
      <TickField label={t.pick(one.position_name)} value={picked} onValue={onPick} />
    </li>
  );
}

/** What differs in the list that counts, and the answer to it. */
export function Differences({ view, onPut }: { view: MakerView; onPut: (view: MakerView) => void }) {
  const { currency, people } = useShop();
  const [picked, setPicked] = useState<string[]>([]);
  const [answer, setAnswer] = useState('accepted');
  const [why, setWhy] = useState('');
  const [agreed, setAgreed] = useState('');
  const [change, setChange] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<MakerView>(onPut);
  if (view.differences.length === 0) return null;
  const counts = view.lists.find((list) => list.counts);
  const pick = (key: string, on: boolean) => setPicked(on ? [...picked, key] : picked.filter((one) => one !== key));
  const write = (event: Event) => {
    event.preventDefault();
    const cents = answer === 'accepted' ? typedNumber(change, 100) : 0;
    void run(() => ask.answerDifference(view.order, {
      who: by.who, answer: answer === 'accepted' ? 'accepted' : 'denied', differences: picked, why: why.trim(), signed_by: agreed.trim(),
      price_change_cents: Math.round(cents ?? 0), list: counts ? `${counts.kind} ${counts.number}` : '', revision: view.revision,
    }));
  };
  return (
    <section>
      <h2 id="maker-differences">{t.differences}</h2>
      <ul class="maker-differences" aria-labelledby="maker-differences">
        {view.differences.map((one) => <Difference key={one.key} one={one} picked={picked.includes(one.key)} onPick={(on) => pick(one.key, on)} />)}
      </ul>
      <form class="maker-form" onSubmit={write} aria-label={t.answer} noValidate>
        <ChoiceField label={t.answer} value={answer} onValue={setAnswer} options={[['accepted', t.accept], ['denied', t.deny]]} />
        <TextField label={t.why} value={why} onValue={setWhy} />
        <ByWhomField by={by} label={t.who} people={people} />
        {answer === 'accepted' && <TextField label={t.agreed} value={agreed} onValue={setAgreed} />}
        {answer === 'accepted' && <TextField label={t.priceChange} unit={symbolOf(currency)} number value={change} onValue={setChange} />}
        <div class="whole"><Complaint words={complaint} /></div>
        <p class="whole">
          <button type="submit" class="do" disabled={busy || picked.length === 0 || by.who === '' || why.trim() === ''}>{t.answerDo}</button>
          {picked.length === 0 && <span class="small"> {t.nothingPicked}</span>}
        </p>
      </form>
    </section>
  );
}
