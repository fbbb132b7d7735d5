import { useState } from 'preact/hooks';
import { ask, Refusal } from '../ask/ask';
import { orderPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { go } from '../frame/travel';
import { Refused } from '../marks/waiting';
import { symbolOf } from '../words/amount';
import { say } from '../words/say';
import { ChoiceField, DayField, TextField, TickField } from './field';
import { type Complaints, type FieldName, fieldOf, kEmptyForm, type OrderForm, orderOf } from './order_form';

const t = say.newOrder;
const kRegions: [string, string][] = [['EU', 'EU'], ['UK', 'UK'], ['US', 'US']];
const kAssists: [string, string][] = [
  ['none', t.none], ['25 km/h', '25 km/h'], ['45 km/h', '45 km/h'], ['class 1', 'class 1'], ['class 2', 'class 2'], ['class 3', 'class 3'],
];

function useForm() {
  const { builds } = useShop();
  const [form, setForm] = useState<OrderForm>({ ...kEmptyForm, build: builds[0]?.id ?? '' });
  const [complaints, setComplaints] = useState<Complaints>({});
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [busy, setBusy] = useState(false);

  const send = async (event: Event) => {
    event.preventDefault();
    const made = orderOf(form);
    setRefusal(undefined);
    if ('complaints' in made) return setComplaints(made.complaints);
    setComplaints({});
    setBusy(true);
    try {
      const opened = await ask.openOrder(made.order);
      go(orderPath(opened.line.id));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const field = fieldOf(error.view);
      if (field) setComplaints({ [field]: error.view.sentence });
      else setRefusal(error);
    } finally {
      setBusy(false);
    }
  };
  const bind = <F extends FieldName>(field: F) => ({
    value: form[field],
    complaint: complaints[field],
    onValue: (value: OrderForm[F]) => setForm((old) => ({ ...old, [field]: value })),
  });
  return { bind, send, busy, refusal };
}

export function NewOrderPage() {
  const { builds, routes, currency } = useShop();
  const { bind, send, busy, refusal } = useForm();
  const begins = bind('state');
  const isEnquiry = begins.value === 'Enquiry';
  return (
    <div class="page form-page">
      <h1>{t.title}</h1>
      <p class="lead">{t.lead}</p>
      <form class="sheet-form" onSubmit={send} noValidate>
        <fieldset>
          <legend>{t.begins}</legend>
          <ChoiceField label={t.beginsAs} options={[['Draft', t.draft], ['Enquiry', t.enquiry]]} hint={isEnquiry ? t.enquiryHint : ''}
            {...begins} onValue={(value) => begins.onValue(value === 'Enquiry' ? 'Enquiry' : 'Draft')} />
        </fieldset>
        <fieldset>
          <legend>{t.rider}</legend>
          <div class="pair">
            <TextField label={t.name} {...bind('name')} />
            <TextField label={t.contact} {...bind('contact')} />
          </div>
          <div class="triple">
            <TextField label={t.height} unit="cm" number {...bind('height')} />
            <TextField label={t.inseam} unit="cm" number {...bind('inseam')} />
            <TextField label={t.mass} unit="kg" number {...bind('mass')} />
          </div>
        </fieldset>
        <fieldset>
          <legend>{t.need}</legend>
          <TextField label={t.words} hint={t.wordsHint} lines={3} {...bind('words')} />
          <div class="triple">
            <ChoiceField label={t.useClass} options={t.ground.map((g, i) => [String(i + 1), `${i + 1}: ${g}`])} {...bind('useClass')} />
            <TextField label={t.luggage} unit="kg" number {...bind('luggage')} />
            <ChoiceField label={t.route} options={[['', t.noRoute], ...routes.map((r): [string, string] => [r, r])]} {...bind('route')} />
          </div>
          <div class="triple">
            <ChoiceField label={t.region} options={kRegions} {...bind('region')} />
            <ChoiceField label={t.assist} options={kAssists} {...bind('assist')} />
            <ChoiceField label={t.brake} options={[['left', t.left], ['right', t.right]]} {...bind('brake')} />
          </div>
          <div class="ticks">
            <TickField label={t.child} {...bind('childSeat')} />
            <TickField label={t.freight} {...bind('byFreight')} />
          </div>
        </fieldset>
        <fieldset>
          <legend>{t.bike}</legend>
          <ChoiceField label={t.build} options={builds.map((b) => [b.id, b.name])} {...bind('build')} />
          <DayField label={t.neededBy} hint={t.neededByHint} {...bind('neededBy')} />
        </fieldset>
        <fieldset>
          <legend>{t.enquiryPart}</legend>
          <TextField label={t.budget} unit={symbolOf(currency)} hint={t.budgetHint} number {...bind('budget')} />
          <div class="ticks"><TickField label={t.budgetNothing} {...bind('budgetNothing')} /></div>
          <div class="pair">
            <DayField label={t.followUp} hint={t.followUpHint} {...bind('followUp')} />
            <TextField label={t.followUpAbout} {...bind('followUpAbout')} />
          </div>
        </fieldset>
        {refusal && <Refused refusal={refusal} />}
        <button type="submit" class="do" disabled={busy}>{busy ? t.opening : isEnquiry ? t.submitEnquiry : t.submit}</button>
      </form>
    </div>
  );
}
