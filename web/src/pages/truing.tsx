import { useMemo, useState } from 'preact/hooks';
import { type Aid, type AidInput, ask } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { presets, type Typed, useReckoned } from '../ask/use_reckoned';
import { Mark } from '../marks/mark';
import { Body, Refused, Waiting } from '../marks/waiting';
import { say } from '../words/say';
import { ChoiceField, TextField } from './field';
import { Readings } from './truing_readings';
import { fieldsOf, freshState, isComplete, keep, keptState, passNumber, readCount, type StandState, turnsMade } from './truing_state';
import { areAllMeant, Turns } from './truing_turns';

const t = say.truing;

/** What is read each time; everything else is of the wheel and stays. */
const kReadings = ['lateral', 'radial', 'tensions', 'dish', 'earlier'];
const isMeasure = (input: AidInput) => !kReadings.includes(input.key);

function useStand(order: string, wheel: string) {
  const [state, setState] = useState(() => keptState(order, wheel));
  const put = (next: StandState) => {
    keep(order, wheel, next);
    setState(next);
  };
  return { state, put, change: (change: Partial<StandState>) => put({ ...state, ...change }) };
}

function Measures({ aid, given, state, wrong, onChange }: {
  aid: Aid; given: Typed; state: StandState; wrong: { field: string; sentence: string } | undefined; onChange: (own: Typed) => void;
}) {
  return (
    <section class="truing-measures">
      <p class="lead">{t.measuresLead}</p>
      <div class="measures-grid">
        {aid.inputs.filter(isMeasure).map((input) => {
          const common = {
            label: input.label, hint: input.help, value: state.own[input.key] ?? given[input.key] ?? '',
            complaint: wrong?.field === input.key ? wrong.sentence : undefined,
            onValue: (value: string) => onChange({ ...state.own, [input.key]: value }),
          };
          return input.kind === 'choice'
            ? <ChoiceField key={input.key} {...common} options={input.choices.map((word) => [word, word])} />
            : <TextField key={input.key} {...common} />;
        })}
      </div>
      <button type="button" class="plain" onClick={() => onChange({})}>{t.asPreset}</button>
    </section>
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

function Stand({ aid, order, wheel }: { aid: Aid; order: string; wheel: string }) {
  const { state, put, change } = useStand(order, wheel);
  const given = useMemo(() => presets(aid), [aid]);
  const whole = { ...given, ...state.own };
  const spokes = (Number(whole['holes_left']) || 0) + (Number(whole['holes_right']) || 0);
  const asked = JSON.stringify(isComplete(state) ? fieldsOf(given, state, spokes) : null);
  const typed = useMemo(() => (JSON.parse(asked) as Typed | null) ?? undefined, [asked]);
  const { reckoned, refusal } = useReckoned(aid, typed);
  const drawn = reckoned?.wheel ?? undefined;
  const goingOn = reckoned?.going_on ?? undefined;
  const field = refusal?.view.field;
  const isOfWheel = aid.inputs.some((input) => input.key === field && isMeasure(input));
  const made = () => {
    put(turnsMade(state, goingOn?.fields['earlier'] ?? state.earlier));
    scrollTo(0, 0);
  };
  const show = (view: StandState['view']) => {
    change({ view });
    scrollTo(0, 0);
  };
  return (
    <>
      <p class="cautions truing-caution"><Mark shape="triangle" tone="care" /> {aid.caution}</p>
      {state.view === 'readings' && <p class="truing-pass"><b>{t.pass(passNumber(state))}.</b> {t.zeros}</p>}
      {refusal && <Refused refusal={refusal} />}
      {state.view === 'readings' && <Readings state={state} spokes={spokes} field={field} onChange={change} />}
      {state.view === 'turns' && (drawn && reckoned
        ? <Turns reckoned={reckoned} wheel={drawn} ticked={state.ticked} onTicked={(ticked) => change({ ticked })} />
        : !refusal && (typed ? <Waiting words={t.asking} />
          : <p class="do-this">{t.first} <button type="button" class="plain" onClick={() => show('readings')}>{t.toReadings}</button></p>))}
      {state.view === 'measures' && (
        <Measures aid={aid} given={given} state={state} onChange={(own) => change({ own })}
          wrong={refusal && isOfWheel ? { field: refusal.view.field, sentence: refusal.view.sentence } : undefined} />
      )}
      {state.view !== 'turns' && (passNumber(state) > 1 || readCount(state.lateral) > 0) && (
        <Anew passes={passNumber(state)} onYes={() => put({ ...freshState(state.lateral.length), own: state.own })} />
      )}
      <nav class="turn stand-turn" aria-label={t.steps}>
        {kViews.map((view) => (
          <button key={view} type="button" aria-current={state.view === view ? 'step' : undefined} onClick={() => show(view)}>{t[view]}</button>
        ))}
        {state.view === 'turns' && goingOn && drawn
          ? <button type="button" class="next" disabled={!areAllMeant(drawn, state.ticked)} onClick={made}>{goingOn.label}</button>
          : <button type="button" class="next" disabled={!typed || state.view === 'turns'} onClick={() => show('turns')}>{t.seeTurns}</button>}
      </nav>
    </>
  );
}

/** A wheel on the stand: readings, the turns they lead to, and the next pass; `order` may be empty. */
export function TruingPage({ order, wheel }: { order: string; wheel: string }) {
  const answered = useAnswer('aids', ask.aids, () => false);
  const aid = answered.value?.find((one) => one.id === 'truing');
  return (
    <div class="page at-bench truing">
      <h1>{order && <span class="number">{order}</span>} {order ? t.wheelOf(wheel) : t.title} <a class="leave" href="/bench">{t.all}</a></h1>
      <Body answered={answered}>{() => (aid ? <Stand aid={aid} order={order} wheel={wheel} /> : null)}</Body>
    </div>
  );
}
