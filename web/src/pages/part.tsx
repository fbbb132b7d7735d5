import { useState } from 'preact/hooks';
import { ask, type FactView, type PartView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { labelsPath, orderPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Standing } from '../marks/mark';
import { Body } from '../marks/waiting';
import { mass, massUs, money, short } from '../words/amount';
import { dayWithYear } from '../words/day';
import { labelWords } from '../words/labels';
import { say } from '../words/say';
import { Entry, OriginFields, useOrigin } from './fact_entry';
import { Standings } from './parts';
import { Purchases } from './purchases';

const t = say.parts;
const p = say.parts.page;

function Fact({ fact }: { fact: FactView }) {
  const from = [fact.source, fact.by && `${p.by} ${fact.by}`, fact.date && dayWithYear(fact.date)].filter(Boolean).join(', ');
  return (
    <tr>
      <th scope="row">{fact.name}{fact.decisive && <span class="small"> {p.decisive}</span>}</th>
      <td data-of={p.value}><span>{fact.value || <span class="quiet">{fact.help}</span>}{fact.us && <span class="us"> · {fact.us}</span>}</span></td>
      <td data-of={p.standing}><Standing word={fact.standing} /></td>
      <td data-of={p.source} class="source">{from}</td>
    </tr>
  );
}

function Facts({ facts }: { facts: FactView[] }) {
  if (facts.length === 0) return <p class="quiet">{p.factsNone}</p>;
  return (
    <table class="book fold">
      <thead><tr><th scope="col">{p.attribute}</th><th scope="col">{p.value}</th><th scope="col">{p.standing}</th><th scope="col">{p.source}</th></tr></thead>
      <tbody>{facts.map((fact) => <Fact key={fact.attribute} fact={fact} />)}</tbody>
    </table>
  );
}

/** What nobody knows of the part yet, written down where it is missed. */
function NotKnown({ view, again }: { view: PartView; again: () => void }) {
  const [origin, setOrigin] = useOrigin();
  const [told, setTold] = useState('');
  const open = view.facts.filter((fact) => fact.standing === 'not known');
  const { id, name } = view.row.part;
  const saved = (sentence: string) => {
    setTold(sentence);
    again();
  };
  return (
    <>
      <p role="status">{told}</p>
      {open.length > 0 && (
        <details class="not-known">
          <summary>{p.enter(open.length)}</summary>
          <OriginFields origin={origin} onOrigin={setOrigin} />
          <ol class="to-measure">
            {open.map((fact) => <li key={fact.attribute}><Entry fact={{ ...fact, part: id, of: name }} origin={origin} onSaved={saved} /></li>)}
          </ol>
        </details>
      )}
    </>
  );
}

function Offers({ view }: { view: PartView }) {
  if (view.offers.length === 0) return <p class="quiet">{p.offersNone}</p>;
  return (
    <table class="book fold">
      <thead><tr><th scope="col">{t.supplier}</th><th scope="col">{p.article}</th><th scope="col">{t.price}</th><th scope="col">{p.lead}</th></tr></thead>
      <tbody>
        {view.offers.map((offer) => (
          <tr key={offer.supplier + offer.article}>
            <th scope="row">{offer.supplier}<span class="small"> {offer.availability}</span></th>
            <td data-of={p.article}>{offer.article}</td>
            <td data-of={t.price}><span>{offer.prices.map((price) => <span key={price} class="break">{price}</span>)}</span></td>
            <td data-of={p.lead}><span>{p.days(short(offer.lead_days_50, 1), short(offer.lead_days_90, 1))}<span class="small source"> {p.basis} {offer.basis}</span></span></td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function OnePart({ view, again }: { view: PartView; again: () => void }) {
  const { currency } = useShop();
  const { row } = view;
  const facts: [string, preact.ComponentChildren][] = [
    [t.price, money(row.part.price_cents, currency)],
    [t.mass, row.part.mass_kg === null ? t.notKnown : `${mass(row.part.mass_kg)} · ${massUs(row.part.mass_kg)}`],
    [t.shelf, row.on_shelf], [t.putBy, row.put_by], [t.underWay, row.under_way],
    [t.facts, <Standings row={row} />],
  ];
  return (
    <>
      <p class="need">{row.part.name}, <span class="quiet">{row.part.maker}, {row.kind_name}{row.gone && `, ${t.gone}`}</span></p>
      <dl class="card">{facts.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}</dl>
      <p class="papers"><a href={labelsPath({ parts: [row.part.id] })}>{labelWords.bin}</a></p>
      <h2>{p.facts}</h2>
      <Facts facts={view.facts} />
      <NotKnown view={view} again={again} />
      <h2>{p.offers}</h2>
      <Offers view={view} />
      <h2>{t.purchases}</h2>
      <Purchases purchases={view.purchases} />
      {view.orders.length > 0 && (
        <>
          <h2>{p.usedIn}</h2>
          <p class="used-in">{view.orders.map((order) => <a key={order} href={orderPath(order)}>{order}</a>)}</p>
        </>
      )}
    </>
  );
}

export function PartPage({ id }: { id: string }) {
  const answered = useAnswer(`part ${id}`, () => ask.part(id));
  return (
    <div class="page">
      <h1><span class="number">{id}</span></h1>
      <Body answered={answered}>{(view) => <OnePart view={view} again={answered.again} />}</Body>
    </div>
  );
}
