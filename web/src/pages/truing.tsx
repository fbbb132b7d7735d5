import { useMemo, useState } from 'preact/hooks';
import { type Aid, type AidInput, ask, type FilledAid, type FilledField, type Reckoned, type Refusal } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { presets, type Typed, useReckoned } from '../ask/use_reckoned';
import { truingPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body, Refused, Waiting } from '../marks/waiting';
import { say } from '../words/say';
import { ChoiceField, TextField } from './field';
import { Readings } from './truing_readings';
import {
  canTakeBack, fieldsOf, fittedTo, freshState, isComplete, keep, keptState, passNumber, readCount, type StandState, turnsMade,
} from './truing_state';
import { areAllMeant, Turns } from './truing_turns';

const t = say.truing;

/** What is read each time; everything else is of the wheel and stays. */
const kReadings = ['lateral', 'radial', 'tensions', 'dish', 'earlier'];
const isMeasure = (input: AidInput) => !kReadings.includes(input.key);
const isOpen = (field: FilledField) => field.from === 'known' && field.value === '';

const spokeCount = (wheel: Typed) => (Number(wheel['holes_left']) || 0) + (Number(wheel['holes_right']) || 0);

/** The wheel's fields: the aid's own, or those of an order. */
function wheelFields(aid: Aid, filled: FilledField[]): Typed {
  const known = filled.filter((field) => !kReadings.includes(field.key)).map((field) => [field.key, field.value]);
  return { ...presets(aid), ...Object.fromEntries(known) };
}

function useStand(order: string, wheel: string) {
  const [kept, setKept] = useState(() => keptState(order, wheel));
  const put = (next: StandState) => {
    keep(order, wheel, next);
    setKept(next);
  };
  return { kept, put };
}

/** From which part a value comes, and what is not known yet. */
function hintOf(input: AidInput, field: FilledField | undefined): string {
  if (!field) return input.help;
  return [field.origin, field.question].filter(Boolean).join('; ') || input.help;
}

interface MeasuresProps {
  aid: Aid;
  given: Typed;
  filled: FilledField[];  // from an order; none without one
  state: StandState;
  wrong: { field: string; sentence: string } | undefined;
  onChange: (own: Typed) => void;
}

function Measures({ aid, given, filled, state, wrong, onChange }: MeasuresProps) {
  return (
    <section class="truing-measures">
      <p class="lead">{t.measuresLead}</p>
      <div class="measures-grid">
        {aid.inputs.filter(isMeasure).map((input) => {
          const common = {
            label: input.label, hint: hintOf(input, filled.find((field) => field.key === input.key)),
            value: state.own[input.key] ?? given[input.key] ?? '',
            complaint: wrong?.field === input.key ? wrong.sentence : undefined,
            onValue: (value: string) => onChange({ ...state.own, [input.key]: value }),
          };
          return input.kind === 'choice'
            ? <ChoiceField key={input.key} {...common} options={input.choices.map((word) => [word, word])} />
            : <TextField key={input.key} {...common} />;
        })}
      </div>
      {Object.keys(state.own).length > 0 && (
        <button type="button" class="plain big" onClick={() => onChange({})}>{filled.length > 0 ? t.fromOrder : t.asPreset}</button>
      )}
    </section>
  );
}

/** What the order does not say of this wheel and nobody typed here: without it nothing is reckoned. */
function Questions({ filled, own, onWheel }: { filled: FilledField[]; own: Typed; onWheel: () => void }) {
  const open = filled.filter((field) => isOpen(field) && !own[field.key]);
  if (open.length === 0) return null;
  const sentences = [...new Set(open.map((field) => field.question))];
  return (
    <details class="truing-open">
      <summary><Mark shape="gap" tone="care" /> {t.notKnown(sentences.length)}</summary>
      <ul>{sentences.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul>
      <button type="button" class="plain big" onClick={onWheel}>{t.toWheel}</button>
    </details>
  );
}

function Anew({ passes, onYes }: { passes: number; onYes: () => void }) {
  const [asked, setAsked] = useState(false);
  if (!asked) return <p><button type="button" class="plain big" onClick={() => setAsked(true)}>{t.anew}</button></p>;
  return (
    <p role="alert">
      {t.anewSure(passes)}{' '}
      <button type="button" class="plain big" onClick={() => { setAsked(false); onYes(); }}>{t.anewYes}</button>{' '}
      <button type="button" class="plain big" onClick={() => setAsked(false)}>{t.anewNo}</button>
    </p>
  );
}

const kViews: StandState['view'][] = ['readings', 'turns', 'measures'];

interface BarProps {
  view: StandState['view'];
  ready: boolean;                 // everything was read
  made: (() => void) | undefined;  // the turns that are shown, once they may be called made
  madeWord: string | undefined;
  onView: (view: StandState['view']) => void;
}

/** Where one is, and the one deed. */
function StandBar({ view, ready, made, madeWord, onView }: BarProps) {
  return (
    <nav class="turn stand-turn" aria-label={t.steps}>
      {kViews.map((one) => (
        <button key={one} type="button" aria-current={view === one ? 'step' : undefined} onClick={() => onView(one)}>{t[one]}</button>
      ))}
      {view === 'turns' && madeWord
        ? <button type="button" class="next" disabled={!made} onClick={made}>{madeWord}</button>
        : <button type="button" class="next" disabled={!ready || view === 'turns'} onClick={() => onView('turns')}>{t.seeTurns}</button>}
    </nav>
  );
}

interface TurnsViewProps {
  typed: Typed | undefined;
  answer: { reckoned?: Reckoned; refusal?: Refusal };
  ticked: number[];
  onTicked: (ticked: number[]) => void;
  onReadings: () => void;
}

function TurnsView({ typed, answer: { reckoned, refusal }, ticked, onTicked, onReadings }: TurnsViewProps) {
  if (reckoned?.wheel) return <Turns reckoned={reckoned} wheel={reckoned.wheel} ticked={ticked} onTicked={onTicked} />;
  if (refusal) return null;
  if (typed) return <Waiting words={t.asking} />;
  return <p class="do-this">{t.first} <button type="button" class="plain" onClick={onReadings}>{t.toReadings}</button></p>;
}

/** Going back: the turns that were not made after all, or all of this wheel. */
function Back({ state, onState }: { state: StandState; onState: (state: StandState) => void }) {
  const before = canTakeBack(state);
  const anew = passNumber(state) > 1 || readCount(state.lateral) > 0;
  return (
    <>
      {before && <p><button type="button" class="plain big" onClick={() => onState(before)}>{t.takeBack}</button></p>}
      {anew && <Anew passes={passNumber(state)} onYes={() => onState({ ...freshState(), own: state.own })} />}
    </>
  );
}

/** The aid's fields as they stand, once everything was read; the same as long as they say the same. */
function useTyped(given: Typed, state: StandState, spokes: number): Typed | undefined {
  const asked = JSON.stringify(isComplete(state) ? fieldsOf(given, state, spokes) : null);
  return useMemo(() => (JSON.parse(asked) as Typed | null) ?? undefined, [asked]);
}

interface StandProps {
  aid: Aid;
  order: string;
  wheel: string;
  filled: FilledField[];
}

function Stand({ aid, order, wheel, filled }: StandProps) {
  const { kept, put } = useStand(order, wheel);
  const given = useMemo(() => wheelFields(aid, filled), [aid, filled]);
  const spokes = spokeCount({ ...given, ...kept.own });
  const state = fittedTo(kept, spokes);
  const change = (changed: Partial<StandState>) => put({ ...state, ...changed });
  const typed = useTyped(given, state, spokes);
  const answer = useReckoned(aid, typed);
  const { reckoned, refusal } = answer;
  const goingOn = reckoned?.going_on ?? undefined;
  const wrong = aid.inputs.some((input) => input.key === refusal?.view.field && isMeasure(input)) ? refusal?.view : undefined;
  const show = (view: StandState['view']) => {
    change({ view });
    scrollTo(0, 0);
  };
  const made = goingOn && reckoned?.wheel && areAllMeant(reckoned.wheel, state.ticked)
    ? () => {
      put(turnsMade(state, goingOn.fields['earlier'] ?? state.earlier));
      scrollTo(0, 0);
    } : undefined;
  return (
    <>
      <p class="cautions truing-caution"><Mark shape="triangle" tone="care" /> {aid.caution}</p>
      {state.view === 'readings' && <p class="truing-pass"><b>{t.pass(passNumber(state))}.</b> {t.zeros}</p>}
      <Questions filled={filled} own={state.own} onWheel={() => show('measures')} />
      {refusal && <Refused refusal={refusal} />}
      {state.view === 'readings' && <Readings state={state} spokes={spokes} field={refusal?.view.field} onChange={change} />}
      {state.view === 'turns' && (
        <TurnsView typed={typed} answer={answer} ticked={state.ticked} onTicked={(ticked) => change({ ticked })}
          onReadings={() => show('readings')} />
      )}
      {state.view === 'measures' && (
        <Measures aid={aid} given={given} filled={filled} state={state} onChange={(own) => change({ own })} wrong={wrong} />
      )}
      {state.view !== 'turns' && <Back state={state} onState={put} />}
      <StandBar view={state.view} ready={typed !== undefined} made={made} madeWord={goingOn?.label} onView={show} />
    </>
  );
}

const kNoFields: FilledField[] = [];

/** The order's wheel; without a word to say of it, why, and the way to the stand of any wheel. */
function OrderStand({ aid, order, wheel }: { aid: Aid; order: string; wheel: string }) {
  const answered = useAnswer(`truing ${order} ${wheel}`, () => ask.orderAid(order, 'truing', { end: wheel }), concernsOrder(order));
  const other = wheel === 'rear' ? 'front' : 'rear';
  return (
    <Body answered={answered}>
      {(filled: FilledAid) => (
        <>
          {filled.fields.length > 0
            ? <Stand aid={aid} order={order} wheel={wheel} filled={filled.fields} />
            : <p class="do-this"><Mark shape="gap" tone="care" /> {filled.refusal?.sentence}. <a href={truingPath()}>{t.anyWheel}</a></p>}
          <p class="truing-other"><a href={truingPath(order, other)}>{t.wheelOf(other)}</a></p>
        </>
      )}
    </Body>
  );
}

/** A wheel on the stand: readings, the turns they lead to, and the next pass; `order` may be empty. */
export function TruingPage({ order, wheel }: { order: string; wheel: string }) {
  const answered = useAnswer('aids', ask.aids, () => false);
  const aid = answered.value?.find((one) => one.id === 'truing');
  return (
    <div class="page at-bench truing">
      <h1>{order && <span class="number">{order}</span>} {order ? t.wheelOf(wheel) : t.title} <a class="leave" href="/bench">{t.all}</a></h1>
      <Body answered={answered}>
        {() => (!aid ? null : order ? <OrderStand aid={aid} order={order} wheel={wheel} />
          : <Stand aid={aid} order={order} wheel={wheel} filled={kNoFields} />)}
      </Body>
    </div>
  );
}
