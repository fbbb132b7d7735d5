import { useState } from 'preact/hooks';
import { ask, type NotKnownFact, type NotKnownView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { orderPath, partPath } from '../frame/route';
import { Body } from '../marks/waiting';
import { say } from '../words/say';
import { Entry, type Origin, OriginFields, useOrigin } from './fact_entry';

const t = say.toMeasure;

const keyOf = (fact: NotKnownFact) => `${fact.of} ${fact.part} ${fact.attribute}`;

interface LineProps {
  fact: NotKnownFact;
  origin: Origin;
  onSaved: (sentence: string) => void;
}

const Orders = ({ ids }: { ids: string[] }) => (
  <span class="used-in">{ids.map((id) => <a key={id} href={orderPath(id)}>{id}</a>)}</span>
);

function Line({ fact, origin, onSaved }: LineProps) {
  return (
    <li>
      <div class="what">
        <p class="of">{fact.part ? <><a href={partPath(fact.part)}>{fact.of}</a> <span class="small">{fact.part}</span></> : fact.of}</p>
        {fact.orders.length > 0 && <p>{t.holds(fact.orders.length)} <Orders ids={fact.orders} /></p>}
        {fact.offers.length > 0 && <p>{t.offers} <Orders ids={fact.offers} /></p>}
        <p class="small">{fact.who}.</p>
        <details>
          <summary>{t.rules(fact.rules.length, fact.severity)}</summary>
          <ul class="rules">{fact.rules.map((rule) => <li key={rule.rule}>{rule.rule}, {rule.severity}: {t.looksAt(rule.asks)}</li>)}</ul>
        </details>
      </div>
      {fact.part
        ? <Entry fact={fact} origin={origin} onSaved={onSaved} />
        : <div class="entering"><b>{fact.name}</b><p class="hint">{fact.help} {t.onTheOrder} <Orders ids={[...fact.orders, ...fact.offers].slice(0, 1)} />.</p></div>}
    </li>
  );
}

function ToMeasure({ view, again }: { view: NotKnownView; again: () => void }) {
  const [origin, setOrigin] = useOrigin();
  const [told, setTold] = useState('');
  const onSaved = (sentence: string) => {
    setTold(sentence);
    again();
  };
  return (
    <>
      <p class="lead">{view.sentence} {view.facts.length > 0 && t.lead}</p>
      {view.facts.some((fact) => fact.part) && <OriginFields origin={origin} onOrigin={setOrigin} />}
      <p class="count" role="status">{told}</p>
      <ol class="to-measure">{view.facts.map((fact) => <Line key={keyOf(fact)} fact={fact} origin={origin} onSaved={onSaved} />)}</ol>
    </>
  );
}

export function ToMeasurePage() {
  const answered = useAnswer('not known', ask.notKnownFacts);
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><a href="/parts">{say.parts.title}</a></div>
      <Body answered={answered}>{(view) => <ToMeasure view={view} again={answered.again} />}</Body>
    </div>
  );
}
