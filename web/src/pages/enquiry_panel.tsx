import { useState } from 'preact/hooks';
import { ask, type OrderView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { money, symbolOf } from '../words/amount';
import { enquiryWords as t, placeOf } from '../words/enquiry';
import { say } from '../words/say';
import { Complaint, useDeed } from './deed';
import { DayField, TextField, TickField } from './field';
import { typedNumber } from './order_form';

interface PartProps {
  view: OrderView;
  put: (view: OrderView) => void;
}

/** The budget as it was said, and the price beside it; it hides no part. */
function BudgetLine({ view }: { view: OrderView }) {
  const { currency } = useShop();
  const { budget, spec } = view;
  if (!budget) return <p>{t.notAsked}</p>;
  if (budget.at_most_cents === null) return <p>{t.nothingSaid}</p>;
  const over = budget.over_cents ?? 0;
  return (
    <p>
      {over > 0 && <><Mark shape="triangle" tone="care" /> </>}
      {t.means(money(budget.at_most_cents, currency, false), money(spec.price_cents, currency, false), placeOf(over, currency))}
    </p>
  );
}

function BudgetForm({ view, put }: PartProps) {
  const { currency } = useShop();
  const said = view.budget;
  const [amount, setAmount] = useState(said?.at_most_cents ? String(said.at_most_cents / 100) : '');
  const [nothing, setNothing] = useState(said !== null && said.at_most_cents === null);
  const [wrong, setWrong] = useState('');
  const { busy, complaint, run } = useDeed<OrderView>(put);
  const send = (event: Event) => {
    event.preventDefault();
    const cents = typedNumber(amount, 100);
    const trouble = cents === undefined ? say.order.depositNotMoney(amount.trim()) : cents !== null && nothing ? t.either : '';
    setWrong(trouble);
    if (trouble !== '' || cents === undefined) return;
    void run(() => ask.setBudget(view.line.id, {
      at_most_cents: cents === null ? null : Math.round(cents), nothing_said: nothing, revision: view.revision,
    }));
  };
  return (
    <form class="life-move" onSubmit={send} noValidate>
      <TextField label={t.budget} unit={symbolOf(currency)} number value={amount} complaint={wrong || undefined} onValue={setAmount} />
      <TickField label={t.nothing} value={nothing} onValue={setNothing} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy}>{t.save}</button>
    </form>
  );
}

function FollowUpForm({ view, put }: PartProps) {
  const [day, setDay] = useState(view.follow_up?.day ?? '');
  const [about, setAbout] = useState(view.follow_up?.about ?? '');
  const { busy, complaint, run } = useDeed<OrderView>(put);
  const send = (event: Event) => {
    event.preventDefault();
    void run(() => ask.followUp(view.line.id, { day, about: about.trim(), revision: view.revision }));
  };
  return (
    <form class="life-move" onSubmit={send} noValidate>
      <DayField label={t.day} value={day} onValue={setDay} />
      <TextField label={t.about} value={about} onValue={setAbout} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy || day === '' || about.trim() === ''}>{t.set}</button>
    </form>
  );
}

function DoneForm({ view, put }: PartProps) {
  const [came, setCame] = useState('');
  const { busy, complaint, run } = useDeed<OrderView>(put);
  const send = (event: Event) => {
    event.preventDefault();
    void run(() => ask.followUp(view.line.id, { day: null, about: came.trim(), revision: view.revision }));
  };
  return (
    <form class="life-move" onSubmit={send} noValidate>
      <TextField label={t.came} value={came} onValue={setCame} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy}>{t.writeDone}</button>
    </form>
  );
}

/** What an order that is not agreed yet is kept with, so that nobody forgets it. */
export function EnquiryPanel({ view, put }: PartProps) {
  const { today } = useShop();
  const due = view.follow_up;
  return (
    <section class="enquiry" aria-labelledby="the-enquiry">
      <h2 id="the-enquiry">{t.title}</h2>
      <BudgetLine view={view} />
      <details class="life-more"><summary>{t.changeBudget}</summary><BudgetForm view={view} put={put} /></details>
      <p>
        {due?.is_due && <><Mark shape="flag" tone="care" /> </>}
        {due ? (due.day < today ? t.due : t.ahead)(due.day, due.about) : t.none}
      </p>
      {due && <details class="life-more"><summary>{t.done}</summary><DoneForm view={view} put={put} /></details>}
      <details class="life-more"><summary>{due ? t.otherDay : t.setDay}</summary><FollowUpForm view={view} put={put} /></details>
    </section>
  );
}
