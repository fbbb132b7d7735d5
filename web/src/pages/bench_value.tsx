import type { ComponentChildren } from 'preact';
import type { Limit, SheetValue } from '../ask/ask';
import { orderAidPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { does } from '../words/does';
import { say } from '../words/say';
import { aidOfValue } from './aid_of_value';

const t = say.bench;

const Us = ({ words }: { words: string }) => (words ? <span class="us"> {words}</span> : null);

const sameLimit = (a: Limit, b: Limit) => a.least === b.least && a.most === b.most && a.source === b.source;

/** What a value must keep, the strictest first and large, and everybody else who says so. */
export function Limits({ value }: { value: SheetValue }) {
  const { target_text: target, range_text: range, strictest } = value;
  const others = value.limits.filter((limit) => !sameLimit(limit, strictest)).map((limit) => limit.source);
  if (!range) return null;
  return (
    <ul class="limits">
      <li class={target ? '' : 'strictest'}>
        {range}{!target && <Us words={value.us_text} />}
        <span class="source">{strictest.source}</span>
      </li>
      {others.length > 0 && <li><span class="source">{t.keptToo(others)}</span></li>}
    </ul>
  );
}

export const Target = ({ value }: { value: SheetValue }) => (
  value.target_text ? <p class="target">{value.target_text}<Us words={value.us_text} /></p> : null
);

/** A value of a step: the target large, then its limits; what was read of it stands below. */
export function BenchValue({ order, value, children }: { order: string; value: SheetValue; children?: ComponentChildren }) {
  const aid = aidOfValue(value);
  return (
    <section class="value">
      <h3>{value.name}{value.count > 1 && <span class="quiet"> {t.times(value.count)}</span>}</h3>
      {value.pass_or_fail && <p class="target words-only">{t.passFail}</p>}
      <Target value={value} />
      <Limits value={value} />
      {value.how && <p class="how">{value.how}</p>}
      {aid && <p class="to-aid"><a href={orderAidPath(aid.aid, order, aid.end)}>{does.reckoned}</a></p>}
      {value.stop && <p class="is-stop"><Mark shape="struck square" tone="stop" /> {t.stop}</p>}
      {children}
    </section>
  );
}
