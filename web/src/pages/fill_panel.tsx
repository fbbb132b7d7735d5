import { useEffect, useState } from 'preact/hooks';
import {
  type Aim, ask, type CompleteQuestion, type CompletionView, type OrderView, Refusal,
} from '../ask/ask';
import { TradeOffChart } from '../drawing/trade_off_chart';
import { useShop } from '../frame/shop';
import { Verdict } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { mass, money, symbolOf } from '../words/amount';
import { countInWords } from '../words/count';
import { dayInWords } from '../words/day';
import { say } from '../words/say';
import type { Choices } from './choosing';
import { TextField } from './field';
import { typedNumber } from './order_form';

const t = say.editor;

/** How many whole bikes there still are, and what the best of them come to. */
export function StillPossible({ view }: { view: OrderView }) {
  const { currency } = useShop();
  const { best, possible, fitting, count_exact: exact } = view.spec;
  if (possible === '') return null;
  if (possible === '0') return <p class="possible">{t.noBike}</p>;
  const bests = [
    best.price_cents !== null && t.atLeast(money(best.price_cents, currency, false)),
    best.mass_kg !== null && t.lightest(mass(best.mass_kg)),
    best.ready !== null && t.soonest(dayInWords(best.ready)),
  ].filter((words) => words !== false);
  const bikes = possible === '1' ? t.oneBike
    : t.bikes(countInWords(possible), countInWords(fitting), exact);
  return (
    <p class="possible">
      {bikes}{' '}
      {possible !== '1' && bests.length > 0 && t.best(bests)}
      {!best.proven && <span class="quiet"> {t.notProvenWhy}</span>}
    </p>
  );
}

/** Slots and parts of a completion, as they are sent to be chosen. */
export const fillsOf = ({ fills }: CompletionView): Choices =>
  Object.fromEntries(fills.map(({ slot, part }) => [slot, part || null]));

function Totals({ bike }: { bike: CompletionView }) {
  const { currency } = useShop();
  return (
    <p class="totals">
      <Verdict word={bike.verdict} />{' '}
      <b class="num">{money(bike.price_cents, currency, false)}</b>{' '}
      <b class="num">{mass(bike.mass_kg)}</b>{' '}
      <b>{bike.ready ? t.ready(dayInWords(bike.ready)) : t.notReady}</b>
      {bike.masses_not_known > 0 && (
        <span class="quiet">{say.order.massesNotKnown(bike.masses_not_known)}</span>
      )}
      {!bike.proven && <span class="quiet">{t.notProven}. {t.notProvenWhy}</span>}
    </p>
  );
}

function Fills({ bike }: { bike: CompletionView }) {
  const { currency } = useShop();
  const filled = bike.fills.filter((fill) => fill.part);
  if (filled.length === 0) return <p>{t.nothingToFill}</p>;
  return (
    <>
      <h3>{t.filled}</h3>
      <ul class="fills">
        {filled.map((fill) => (
          <li key={fill.slot}>
            <span class="of-slot">{fill.slot_name}</span> <span>{fill.name}</span>
            <span class="num">{money(fill.price_cents, currency, false)}</span>
            <span class="num">
              {fill.mass_kg === null ? say.parts.notKnown : mass(fill.mass_kg)}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

interface ShownProps {
  bike: CompletionView;
  busy: boolean;
  onTake: (choices: Choices) => void;
  onPut: () => void;
}

/** What would be filled and what that comes to, before anything is taken over. */
function Shown({ bike, busy, onTake, onPut }: ShownProps) {
  const fills = fillsOf(bike);
  return (
    <div class="completion">
      <p class="completion-sentence" role="status">{bike.sentence}</p>
      <Totals bike={bike} />
      <p class="deeds">
        {Object.keys(fills).length > 0 && (
          <button type="button" class="do" disabled={busy} onClick={() => onTake(fills)}>
            {t.take}
          </button>
        )}
        <button type="button" class="plain" onClick={onPut}>{t.put}</button>
      </p>
      <Fills bike={bike} />
    </div>
  );
}

/** What a kilogram and a day are worth, in the shop's money. */
function Weights({ onAsk }: { onAsk: (question: CompleteQuestion) => void }) {
  const { currency } = useShop();
  const [kg, setKg] = useState('40');
  const [day, setDay] = useState('5');
  const [wrong, setWrong] = useState<{ kg?: string; day?: string }>({});
  const weigh = (event: Event) => {
    event.preventDefault();
    const [perKg, perDay] = [typedNumber(kg, 100), typedNumber(day, 100)];
    if (perKg === undefined || perDay === undefined) {
      return setWrong({
        ...(perKg === undefined && { kg: t.perNotMoney(kg.trim()) }),
        ...(perDay === undefined && { day: t.perNotMoney(day.trim()) }),
      });
    }
    setWrong({});
    onAsk({ aim: 'weighted', cents_per_kg: perKg ?? 0, cents_per_day: perDay ?? 0 });
  };
  const unit = symbolOf(currency);
  return (
    <form class="weights" onSubmit={weigh} noValidate>
      <TextField label={t.perKg} unit={unit} number value={kg} onValue={setKg}
        complaint={wrong.kg} />
      <TextField label={t.perDay} unit={unit} number value={day} onValue={setDay}
        complaint={wrong.day} />
      <button type="submit" class="do">{t.weigh}</button>
    </form>
  );
}

type Wish = Aim | 'compare';

/** What was asked last and what came of it; forgotten when the choices move on. */
function useSearch(id: string, revision: number) {
  const [wish, setWish] = useState<Wish | ''>('');
  const [bikes, setBikes] = useState<CompletionView[] | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [asking, setAsking] = useState(0);
  const clear = (next: Wish | '') => {
    setWish(next);
    setBikes(undefined);
    setRefusal(undefined);
    setAsking((n) => n + 1);
  };
  useEffect(() => clear(''), [revision]);
  const search = (next: Wish, question: () => Promise<CompletionView[]>) => {
    clear(next);
    const number = asking + 1;
    const stillWanted = (then: () => void) => setAsking((now) => {
      if (now === number) then();
      return now;
    });
    question().then((found) => stillWanted(() => setBikes(found)), (error: unknown) => {
      if (!(error instanceof Refusal)) throw error;
      stillWanted(() => setRefusal(error));
    });
  };
  const complete = (question: CompleteQuestion) =>
    search(question.aim ?? 'cheapest', async () => [await ask.complete(id, question)]);
  const compare = () => search('compare', () => ask.tradeOffs(id));
  return { wish, bikes, refusal, clear, complete, compare };
}

function TradeOffs({ bikes, at, onAt }: {
  bikes: CompletionView[];
  at: number;
  onAt: (at: number) => void;
}) {
  if (bikes.length < 2) return <p>{t.tradeOne}</p>;
  return (
    <>
      <h3>{t.tradeOffs}</h3>
      <p class="quiet">{t.tradeLead}</p>
      <TradeOffChart bikes={bikes} at={at} onAt={onAt} />
    </>
  );
}

interface FillPanelProps {
  view: OrderView;
  busy: boolean;
  onTake: (choices: Choices) => void;
}

const kAims = ['cheapest', 'lightest', 'soonest', 'weighted'] as const;

/** The rest of the bike, filled at a wish: shown with its totals, then taken over in one step. */
export function FillPanel({ view, busy, onTake }: FillPanelProps) {
  const { wish, bikes, refusal, clear, complete, compare } =
    useSearch(view.line.id, view.revision);
  const [at, setAt] = useState(0);
  useEffect(() => setAt(0), [bikes]);
  const bike = bikes?.[at];
  const begin = (aim: Aim) => (aim === 'weighted' ? clear(aim) : complete({ aim }));
  const waits = !refusal && !bikes && wish !== '' && wish !== 'weighted';
  return (
    <section class="fill" aria-labelledby="fill">
      <h2 id="fill">{t.fill}</h2>
      <p class="wishes" role="group" aria-label={t.fillLead}>
        <span aria-hidden="true">{t.fillLead}</span>
        {kAims.map((aim) => (
          <button key={aim} type="button" class="wish" aria-pressed={wish === aim}
            onClick={() => begin(aim)}>
            {t.aims[aim]}
          </button>
        ))}
        <button type="button" class="wish" aria-pressed={wish === 'compare'} onClick={compare}>
          {t.compare}
        </button>
      </p>
      {wish === 'weighted' && <Weights onAsk={complete} />}
      {waits && <Waiting words={t.searching} />}
      {refusal && <Refused refusal={refusal} />}
      {bikes && wish === 'compare' && <TradeOffs bikes={bikes} at={at} onAt={setAt} />}
      {bike && <Shown bike={bike} busy={busy} onTake={onTake} onPut={() => clear('')} />}
    </section>
  );
}
