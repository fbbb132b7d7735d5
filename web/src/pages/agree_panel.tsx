import { useState } from 'preact/hooks';
import { ask, type OrderView, Refusal } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Refused } from '../marks/waiting';
import { symbolOf } from '../words/amount';
import { say } from '../words/say';
import { DayField, TextField } from './field';
import { typedNumber } from './order_form';

/** States in which a rider and the shop can still agree. The server has the last word. */
const kBefore = ['Enquiry', 'Draft', 'Offer'];
export const mayBeAgreed = (state: string) => kBefore.includes(state);

interface AgreeProps {
  view: OrderView;
  likely: string;  // day that holds nine times in ten; empty while it is not known
  onAgreed: (view: OrderView) => void;
}

export function AgreePanel({ view, likely, onAgreed }: AgreeProps) {
  const { currency } = useShop();
  const t = say.order;
  const [day, setDay] = useState<string | undefined>(undefined);
  const [deposit, setDeposit] = useState('');
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<{ day?: string; deposit?: string }>({});
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const promised = day ?? (view.line.promised || likely);

  const agree = async (event: Event) => {
    event.preventDefault();
    const cents = typedNumber(deposit, 100);
    setRefusal(undefined);
    if (cents === undefined) return setWrong({ deposit: t.depositNotMoney(deposit.trim()) });
    setWrong({});
    setBusy(true);
    try {
      const body = { promised, deposit_cents: Math.round(cents ?? 0), revision: view.revision };
      onAgreed(await ask.agree(view.line.id, body));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (error.view.field.startsWith('promised')) setWrong({ day: error.view.sentence });
      else if (error.view.field.startsWith('deposit')) setWrong({ deposit: error.view.sentence });
      else setRefusal(error);
    } finally {
      setBusy(false);
    }
  };

  return (
    <form class="agree" onSubmit={agree} noValidate>
      <h2>{t.agree}</h2>
      <p>{t.agreeLead}</p>
      <div class="pair">
        <DayField label={t.agreeDay} value={promised} onValue={setDay} complaint={wrong.day} />
        <TextField label={t.agreeDeposit} unit={symbolOf(currency)} number value={deposit} onValue={setDeposit} complaint={wrong.deposit} />
      </div>
      {refusal && <Refused refusal={refusal} />}
      <button type="submit" class="do" disabled={busy || promised === ''}>{busy ? t.agreeing : t.agreeNow}</button>
    </form>
  );
}
