import { useState } from 'preact/hooks';
import { ask, type LabelSheetView, type LabelsView, type OrderLine, type ShopView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { labelWords as t } from '../words/labels';
import { ChoiceField, TextField, TickField } from './field';
import { LabelPages } from './label_pages';
import { kOrderKinds, type LabelWish, listed, queryText, questionOf, withOrWithout } from './label_wish';

/** States in which nobody labels anything of an order any more. */
const kOver = ['Handed over', 'In care', 'Closed', 'Cancelled'];
const kReadFarAway = 7.5;  // mm of a figure that is read at 1.5 m

interface Chosen {
  wish: LabelWish;
  set: (change: Partial<LabelWish>) => void;
}

interface Tick {
  id: string;
  words: string;
}

/** Open orders, and those that the page began with on top, open or not; later ticks move nothing. */
function ticksOf(orders: OrderLine[], first: string[]): Tick[] {
  const words = (order: OrderLine | undefined) => (order ? `${order.rider}, ${order.state}` : '');
  const named = first.map((id) => ({ id, words: words(orders.find((order) => order.id === id)) }));
  const open = orders.filter((order) => !kOver.includes(order.state) && !first.includes(order.id));
  return [...named, ...open.map((order) => ({ id: order.id, words: words(order) }))];
}

function OrderTicks({ orders, wish, set }: Chosen & { orders: OrderLine[] }) {
  const [words, setWords] = useState('');
  const [first] = useState(wish.orders);
  const sought = words.trim().toLowerCase();
  const shown = ticksOf(orders, first).filter((tick) => wish.orders.includes(tick.id) ||
    `${tick.id} ${tick.words}`.toLowerCase().includes(sought));
  return (
    <>
      <TextField label={t.narrow} value={words} onValue={setWords} />
      {shown.length === 0 && <p class="quiet">{t.noMatch}</p>}
      <ul class="label-orders" tabIndex={0} aria-label={t.orders}>
        {shown.map((tick) => (
          <li key={tick.id}>
            <label class="tick">
              <input type="checkbox" checked={wish.orders.includes(tick.id)}
                onChange={() => set({ orders: withOrWithout(wish.orders, tick.id) })} />
              <b class="number">{tick.id}</b> <span>{tick.words}</span>
            </label>
          </li>
        ))}
      </ul>
    </>
  );
}

function OrderLabels({ wish, set }: Chosen) {
  return (
    <>
      <p class="hint">{t.forEach}</p>
      <div class="ticks">
        {kOrderKinds.map((kind) => (
          <TickField key={kind} label={t[kind]} value={wish.kinds.includes(kind)}
            onValue={() => set({ kinds: withOrWithout(wish.kinds, kind) })} />
        ))}
      </div>
      <TickField label={t.rider} value={wish.rider} onValue={(rider) => set({ rider })} />
      <p class="hint">{t.riderHint}</p>
    </>
  );
}

function Bins({ wish, set }: Chosen) {
  const [text, setText] = useState(wish.parts.join(', '));
  return (
    <fieldset>
      <legend>{t.parts}</legend>
      {/* Asked when it is written, not letter by letter: half a number is none. */}
      <div onChange={() => set({ parts: listed(text) })}>
        <TextField label={t.partNumbers} hint={t.partHint} value={text} onValue={setText} />
      </div>
      <TickField label={t.shelf} value={wish.shelf} onValue={(shelf) => set({ shelf })} />
    </fieldset>
  );
}

function People({ shop, wish, set }: Chosen & { shop: ShopView }) {
  return (
    <fieldset>
      <legend>{t.people}</legend>
      <div class="ticks">
        {shop.people.map(({ id, name }) => (
          <TickField key={id} label={name} value={wish.people.includes(id)}
            onValue={() => set({ people: withOrWithout(wish.people, id) })} />
        ))}
      </div>
      <TickField label={t.tools} value={wish.tools} onValue={(tools) => set({ tools })} />
    </fieldset>
  );
}

function SheetFields({ sheets, wish, set }: Chosen & { sheets: LabelSheetView[] }) {
  const [text, setText] = useState('');
  const sheet = sheets.find((one) => one.id === wish.sheet);
  const most = sheet ? sheet.columns * sheet.rows : 1;
  const typed = (from: string) => {
    setText(from);
    const number = Number(from);
    if (Number.isInteger(number) && number >= 1 && number <= most) {
      set({ from: number });
      setText('');
    }
  };
  return (
    <fieldset>
      <legend>{t.sheet}</legend>
      <ChoiceField label={t.sheet} value={wish.sheet} onValue={(id) => set({ sheet: id, from: 1 })}
        options={sheets.map((one) => [one.id, one.name])} />
      {most > 1 && (
        <TextField label={t.from} hint={t.fromHint} number value={text || String(wish.from)} onValue={typed}
          complaint={text ? t.notNumber(text, most) : undefined} />
      )}
    </fieldset>
  );
}

function Remarks({ view }: { view: LabelsView }) {
  const shortened = view.labels.filter((label) => !label.is_whole).map((label) => label.number);
  const near = view.labels.filter((label) => label.figures_mm < kReadFarAway - 0.05).length;
  return (
    <>
      {shortened.length > 0 && <p class="care"><Mark shape="triangle" tone="care" /> {t.shortened(shortened)}</p>}
      {near > 0 && <p class="quiet">{t.near(near, view.labels.length)}</p>}
    </>
  );
}

function CodeList({ view }: { view: LabelsView }) {
  return (
    <details class="label-codes">
      <summary>{t.list}</summary>
      <table>
        <tbody>
          {view.labels.map((label, i) => (
            <tr key={i}>
              <th scope="row">{label.what}</th><td>{label.number}</td><td class="number">{label.code}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

export function LabelsPage({ orders, parts }: { orders: string[]; parts: string[] }) {
  const shop = useShop();
  const [wish, setWish] = useState<LabelWish>({
    orders, kinds: [...kOrderKinds], rider: false, parts, shelf: false, people: [], tools: false, sheet: 'a4-3x8', from: 1,
  });
  const set = (change: Partial<LabelWish>) => setWish((before) => ({ ...before, ...change }));
  const query = questionOf(wish);
  const text = queryText(query);
  const open = useAnswer('orders', ask.orders);
  const sheets = useAnswer('label sheets', () => ask.labels({}), () => false);
  const answered = useAnswer(`labels ${text}`, () => ask.labels(query));
  return (
    <div class="page labels">
      <h1>{t.title}</h1>
      <p class="lead">{t.lead}</p>
      <div class="label-body">
        <form class="label-form" onSubmit={(event) => event.preventDefault()} aria-label={t.whose}>
          <fieldset>
            <legend>{t.orders}</legend>
            <Body answered={open}>{(list) => <OrderTicks orders={list} wish={wish} set={set} />}</Body>
            <OrderLabels wish={wish} set={set} />
          </fieldset>
          <Bins wish={wish} set={set} />
          <People shop={shop} wish={wish} set={set} />
          {sheets.value && <SheetFields sheets={sheets.value.sheets} wish={wish} set={set} />}
        </form>
        <div class="label-out">
          <Body answered={answered}>
            {(view) => (
              <>
                <p class="promise-sentence" role="status">{view.labels.length > 0 ? view.sentence : t.nothing}</p>
                {view.labels.length > 0 && (
                  <>
                    <p><a class="do" href={`/api/labels.pdf?${text}`} target="_blank" rel="noopener">{t.pdf}</a></p>
                    <p class="quiet measure">{t.howToPrint}</p>
                    <Remarks view={view} />
                  </>
                )}
                <LabelPages view={view} query={text} onFrom={(from) => set({ from })} />
                {view.labels.length > 0 && <CodeList view={view} />}
              </>
            )}
          </Body>
        </div>
      </div>
    </div>
  );
}
