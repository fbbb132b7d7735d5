import { useEffect, useRef } from 'preact/hooks';
import { ask, type Limit, type Sheet, type SheetStep, type SheetValue } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { benchPath, orderAidPath, sheetPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { minutes } from '../words/amount';
import { does } from '../words/does';
import { say } from '../words/say';
import { aidOfValue } from './aid_of_value';
import { StandLinks } from './wheel_links';

const t = say.bench;

const Us = ({ words }: { words: string }) => (words ? <span class="us"> {words}</span> : null);

const sameLimit = (a: Limit, b: Limit) => a.least === b.least && a.most === b.most && a.source === b.source;

/** A value of a step: the target large, then what it must keep and everybody who says so. */
export function BenchValue({ order, value }: { order: string; value: SheetValue }) {
  const aid = aidOfValue(value);
  const { target_text: target, range_text: range, strictest } = value;
  const others = value.limits.filter((limit) => !sameLimit(limit, strictest)).map((limit) => limit.source);
  return (
    <section class="value">
      <h3>{value.name}{value.count > 1 && <span class="quiet"> {t.times(value.count)}</span>}</h3>
      {value.pass_or_fail && <p class="target words-only">{t.passFail}</p>}
      {target && <p class="target">{target}<Us words={value.us_text} /></p>}
      {range && (
        <ul class="limits">
          <li class={target ? '' : 'strictest'}>
            {range}{!target && <Us words={value.us_text} />}
            <span class="source">{strictest.source}</span>
          </li>
          {others.length > 0 && <li><span class="source">{t.keptToo(others)}</span></li>}
        </ul>
      )}
      {value.how && <p class="how">{value.how}</p>}
      {aid && <p class="to-aid"><a href={orderAidPath(aid.aid, order, aid.end)}>{does.reckoned}</a></p>}
      {value.stop && <p class="is-stop"><Mark shape="struck square" tone="stop" /> {t.stop}</p>}
    </section>
  );
}

function Step({ order, step, of }: { order: string; step: SheetStep; of: number }) {
  return (
    <article class="step" aria-labelledby="step-name">
      <p class="step-at"><span class="big">{step.number}</span> <span>{t.of(of)}<br />{step.operation}, {step.area}, {step.skill}</span></p>
      <h2 id="step-name">{step.name}{step.done && <span class="marked"> <Mark shape="tick" tone="ink" /> {t.done}</span>}</h2>
      {step.cautions.length > 0 && (
        <ul class="cautions" aria-label={t.cautions}>
          {step.cautions.map((caution) => <li key={caution}><Mark shape="triangle" tone="care" /> {caution}</li>)}
        </ul>
      )}
      <p class="do-this">{step.steps}</p>
      <StandLinks order={order} step={step} />
      {step.values.length > 0 && <div class="values">{step.values.map((value) => <BenchValue key={value.reading} order={order} value={value} />)}</div>}
      <dl class="needs">
        {step.tools.length > 0 && <div><dt>{t.tools}</dt><dd>{step.tools.join(', ')}</dd></div>}
        {step.consumables.length > 0 && <div><dt>{t.consumables}</dt><dd>{step.consumables.join(', ')}</dd></div>}
      </dl>
      {step.second_person && <p class="second"><Mark shape="eye" tone="ink" /> {t.second}</p>}
      {step.unattended_minutes > 0 && <p>{t.wait(minutes(step.unattended_minutes))}</p>}
      <p class="quiet">{t.minutes(minutes(step.minutes_low), minutes(step.minutes_high))}</p>
    </article>
  );
}

/** The step to show: the one asked for, or the first that is not done. */
export function stepToShow(steps: SheetStep[], asked: number): number {
  if (asked >= 1 && asked <= steps.length) return asked - 1;
  const open = steps.findIndex((step) => !step.done);
  return open < 0 ? 0 : open;
}

function Turn({ id, to, of, word, kind }: { id: string; to: number; of: number; word: string; kind: string }) {
  const there = to >= 0 && to < of;
  return (
    <button type="button" class={kind} disabled={!there} onClick={() => { go(benchPath(id, to + 1), true); scrollTo(0, 0); }}>
      {word}
    </button>
  );
}

function Steps({ sheet, asked }: { sheet: Sheet; asked: number }) {
  const at = stepToShow(sheet.steps, asked);
  const step = sheet.steps[at];
  const shown = useRef<HTMLDivElement>(null);
  const of = sheet.steps.length;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const to = event.key === 'ArrowRight' ? at + 1 : event.key === 'ArrowLeft' ? at - 1 : -1;
      if (to >= 0 && to < of && event.target === document.body) go(benchPath(sheet.order, to + 1), true);
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [at, of, sheet.order]);
  if (!step) return null;
  return (
    <div ref={shown}>
      <div aria-live="polite"><Step order={sheet.order} step={step} of={of} /></div>
      <nav class="turn" aria-label={t.steps}>
        <Turn id={sheet.order} to={at - 1} of={of} word={t.previous} kind="back" />
        <a href={sheetPath(sheet.order)}>{t.whole}</a>
        <Turn id={sheet.order} to={at + 1} of={of} word={t.next} kind="next" />
      </nav>
    </div>
  );
}

export function useSheet(id: string) {
  return useAnswer(`sheet ${id}`, () => ask.sheet(id), concernsOrder(id));
}

export function BenchSheetPage({ id, step }: { id: string; step: number }) {
  const answered = useSheet(id);
  return (
    <div class="page at-bench">
      <h1><span class="number">{id}</span> {answered.value?.rider} <a class="leave" href="/bench">{t.leave}</a></h1>
      <Body answered={answered}>{(sheet) => <Steps sheet={sheet} asked={step} />}</Body>
    </div>
  );
}
