import { useState } from 'preact/hooks';
import { ask, type CareOffer, type CareOperation, type CareView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { careWords as t } from '../words/care';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { TextField, TickField } from './field';

export interface CareProps {
  view: CareView;
  onPut: (view: CareView) => void;
}

/** Ticks one of several on or off. */
export const ticked = (all: string[], one: string, on: boolean) => (on ? [...all, one] : all.filter((each) => each !== one));

export function OperationTicks({ operations, chosen, onChosen }: { operations: CareOperation[]; chosen: string[]; onChosen: (chosen: string[]) => void }) {
  const group = (title: string, of: CareOperation[]) => of.length > 0 && (
    <fieldset class="plain-set">
      <legend>{title}</legend>
      <ul class="care-more">
        {of.map((one) => (
          <li key={one.operation}>
            <TickField label={`${one.operation} ${one.name}`} value={chosen.includes(one.operation)} onValue={(on) => onChosen(ticked(chosen, one.operation, on))} />
          </li>
        ))}
      </ul>
    </fieldset>
  );
  return (
    <>
      {group(t.moreOf.care, operations.filter((one) => one.care))}
      {group(t.moreOf.build, operations.filter((one) => !one.care))}
    </>
  );
}

function Offer({ offer, on, onOn }: { offer: CareOffer; on: boolean; onOn: (on: boolean) => void }) {
  return (
    <li>
      <TickField label={offer.about} value={on} onValue={onOn} />
      <span class="about">
        {offer.due && <span class="marked care"><Mark shape="triangle" tone="care" /> {t.due}</span>}{' '}
        {offer.when}: {offer.work} {offer.operations.map((one) => <span key={one.operation} class="quiet of-visit">{one.operation} </span>)}
      </span>
    </li>
  );
}

/** A bike comes in: what for, how far it went, what its rider says. */
export function OpenVisit({ view, onPut }: CareProps) {
  const { people } = useShop();
  const [visits, setVisits] = useState(view.offers.filter((offer) => offer.due).map((offer) => offer.about));
  const [repair, setRepair] = useState('');
  const [operations, setOperations] = useState<string[]>([]);
  const [km, setKm] = useState('');
  const [note, setNote] = useState('');
  const [key] = useState(() => crypto.randomUUID());
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<CareView>(onPut);
  const said = [...visits, ...(repair.trim() ? [repair.trim()] : operations.length > 0 && visits.length === 0 ? [t.repairWord] : [])];
  const submit = (event: Event) => {
    event.preventDefault();
    void run(() => ask.openVisit(view.order, { who: by.who, key, visits: said, km: km.trim(), note: note.trim(), operations }));
  };
  return (
    <section>
      <h2 id="visit-opens">{t.open}</h2>
      <form onSubmit={submit} aria-labelledby="visit-opens" noValidate>
        <ul class="offers" aria-label={t.what}>
          {view.offers.map((offer) => <Offer key={offer.about} offer={offer} on={visits.includes(offer.about)} onOn={(on) => setVisits(ticked(visits, offer.about, on))} />)}
        </ul>
        <details class="operation-group"><summary>{t.more} <span class="quiet">{operations.length > 0 && operations.join(' ')}</span></summary>
          <OperationTicks operations={view.operations} chosen={operations} onChosen={setOperations} />
        </details>
        <div class="care-form">
          <TextField label={t.repair} hint={t.repairHint} value={repair} onValue={setRepair} />
          <TextField label={t.kmField} hint={t.kmHint} number value={km} onValue={setKm} />
          <div class="whole"><TextField label={t.note} value={note} onValue={setNote} /></div>
          <ByWhomField by={by} label={t.who} people={people} />
          <div class="whole"><Complaint words={complaint} /></div>
          {said.length === 0 && <p class="whole quiet">{t.nothing}</p>}
          <p class="whole"><button type="submit" class="do" disabled={busy || by.who === '' || said.length === 0}>{t.openDo}</button></p>
        </div>
      </form>
    </section>
  );
}
