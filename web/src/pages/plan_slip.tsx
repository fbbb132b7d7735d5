import { type RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { PlanView } from '../ask/ask';
import { localOf } from '../drawing/plan_axis';
import { type Place, placeOf } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';
import { benchPath, orderPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Waiting } from '../marks/waiting';
import { say } from '../words/say';
import { planWords } from '../words/plan';
import type { PlanDesk } from './plan_desk';
import { MoveForm } from './plan_move_form';
import { nameIn, ProposalBody } from './plan_proposal';

const t = planWords.slip;
const m = planWords.move;
const p = planWords.proposal;
const shortOf = (work: Work) => planWords.workShort(work.order, work.operation);

type KeepRef = RefObject<HTMLButtonElement | null>;

function Refusing({ sentence }: { sentence: string }) {
  return <p class="refused" role="alert"><Mark shape="cross" tone="stop" /> {sentence}</p>;
}

interface SlipProps {
  plan: PlanView;
  desk: PlanDesk;
  chosen: Work | undefined;
  onClose: () => void;
}

function Facts({ plan, work }: { plan: PlanView; work: Work }) {
  const name = nameIn(plan);
  return (
    <>
      <p>{t.by(name(work.person), planWords.stand(work.area, work.stand))}, {planWords.stretch(localOf(work.start), localOf(work.end))}.
        {work.waitsUntil > work.end && ` ${t.waits(localOf(work.waitsUntil))}`}</p>
      {work.others.length > 0 && <p>{t.together(work.others)}</p>}
      {work.frozen && <p>{t.frozen(plan.frozen_until)}</p>}
      {work.pinned && <p>{t.pinned}</p>}
      {work.late && <p class="stop"><Mark shape="flag" tone="stop" /> {t.late(work.order)}</p>}
      {work.cannot && <p class="care"><Mark shape="gap" tone="care" /> {t.cannot(work.cannot)}</p>}
    </>
  );
}

/** What is known of the work chosen, and what may be done with it. */
function Chosen({ plan, desk, work, onMove, onClose }: {
  plan: PlanView; desk: PlanDesk; work: Work; onMove: () => void; onClose: () => void;
}) {
  const pin = () => desk.dispatch({ do: 'put straight down', work, place: placeOf(work) });
  return (
    <>
      <h2>{planWords.work(work.order, work.rider, work.operation, work.name)}</h2>
      <Facts plan={plan} work={work} />
      <p class="deeds">
        {!work.frozen && <button type="button" class="do" onClick={onMove}>{t.move}</button>}
        {!work.frozen && !work.pinned && <button type="button" class="plain" onClick={pin}>{t.pin}</button>}
        {work.pinned && <button type="button" class="plain" onClick={() => desk.letGo(work)}>{t.letGo}</button>}
        <a href={orderPath(work.order)}>{t.open}</a>
        <a href={benchPath(work.order)}>{say.bench.printed}</a>
        <button type="button" class="plain" onClick={onClose}>{t.close}</button>
      </p>
    </>
  );
}

/** A proposal with the two things that can be done with it. */
function Proposed({ desk, title, keep, back, keeping, keepRef }: {
  desk: PlanDesk; title: string; keep: string; back: string; keeping: string | undefined; keepRef: KeepRef;
}) {
  if (!desk.proposal) return null;
  const improving = desk.proposal.improving;
  return (
    <>
      <h2>{title}</h2>
      <p class="deeds settle">
        <button ref={keepRef} type="button" class="do" disabled={keeping !== undefined || improving} onClick={desk.keep}>
          {keeping ?? keep}
        </button>
        <button type="button" class="plain" disabled={keeping !== undefined} onClick={desk.putBack}>{back}</button>
      </p>
      <ProposalBody proposal={desk.proposal} onBetter={desk.better} />
    </>
  );
}

/** The move as it stands: in the hand, asked about, landed, or refused with the one sentence why. */
function Moving({ plan, desk, onElsewhere, keepRef }: {
  plan: PlanView; desk: PlanDesk; onElsewhere: () => void; keepRef: KeepRef;
}) {
  const { move } = desk;
  if (move.at === 'rest') return null;
  const { work, place, answer } = move;
  const stand = planWords.stand(work.area, place.stand);
  const where = m.held(shortOf(work), nameIn(plan)(place.person), stand, localOf(place.start));
  if (move.at === 'down' && answer?.lands) {
    return (
      <Proposed desk={desk} title={where} keep={m.keep} back={m.putBack}
        keeping={move.keeping ? m.keeping : undefined} keepRef={keepRef} />
    );
  }
  return (
    <>
      <h2>{where}</h2>
      {answer === undefined && move.at === 'down' && <Waiting words={m.asking} />}
      {answer?.lands && <p>{answer.proposal.sentence}</p>}
      {answer && !answer.lands && <Refusing sentence={answer.sentence} />}
      {move.at === 'down' && (
        <p class="deeds">
          <button type="button" class="do" onClick={desk.putBack}>{m.putBack}</button>
          <button type="button" class="plain" onClick={onElsewhere}>{m.elsewhere}</button>
        </p>
      )}
    </>
  );
}

function Opened({ desk, keepRef }: { desk: PlanDesk; keepRef: KeepRef }) {
  const open = desk.open;
  if (!open) return null;
  if (!open.proposal) {
    return (
      <>
        <h2>{open.title}</h2>
        {open.refusal ? <Refusing sentence={open.refusal} /> : <Waiting words={p.asking} />}
        <p class="deeds"><button type="button" class="plain" onClick={desk.putBack}>{p.leave}</button></p>
      </>
    );
  }
  return (
    <>
      {open.refusal && <Refusing sentence={open.refusal} />}
      <Proposed desk={desk} title={open.title} keep={p.agree} back={p.leave}
        keeping={open.keeping ? p.agreeing : undefined} keepRef={keepRef} />
    </>
  );
}

/** The slip of paper under the wall: what is chosen, moved or proposed. It stays in view. */
export function PlanSlip({ plan, desk, chosen, onClose }: SlipProps) {
  const [form, setForm] = useState<Work | undefined>(undefined);
  const keepRef = useRef<HTMLButtonElement>(null);
  const slip = useRef<HTMLElement>(null);
  const { move, open } = desk;
  const landed = move.at === 'down' && move.answer !== undefined;
  const moving = move.at !== 'rest';
  // Whoever put it down with keys or a form goes on here; a mouse is where it is.
  useEffect(() => {
    if (landed && move.at === 'down' && move.hand !== 'pointer') keepRef.current?.focus();
  }, [landed]);
  // Settled with fields or a button that is gone now, the keyboard goes on at the slip.
  const settling = (moving && move.hand === 'form') || open !== undefined;
  const settled = useRef(false);
  useEffect(() => {
    if (settled.current && !settling && !moving) slip.current?.focus();
    settled.current = settling;
  }, [settling]);
  useEffect(() => setForm(undefined), [chosen?.key, move.at === 'held']);

  const place: Place | undefined = form && (moving ? move.place : placeOf(form));
  const put = (to: Place) => {
    if (!form) return;
    desk.dispatch({ do: 'put straight down', work: form, place: to });
    setForm(undefined);
  };
  const elsewhere = () => moving && setForm(move.work);
  const escape = (event: KeyboardEvent) => {
    if (event.key !== 'Escape') return;
    if (form) setForm(undefined);
    else if (moving || open) desk.putBack();
    else onClose();
  };
  const empty = !form && !moving && !open && !chosen;
  return (
    <section ref={slip} tabIndex={-1} class={empty ? 'plan-slip bare' : 'plan-slip'} aria-label={t.title} onKeyDown={escape}>
      {form && place ? (
        <>
          <h2>{m.title(shortOf(form))}</h2>
          <MoveForm plan={plan} work={form} place={place} onPlace={put} onLeave={() => setForm(undefined)} />
        </>
      ) : moving ? <Moving plan={plan} desk={desk} onElsewhere={elsewhere} keepRef={keepRef} />
        : open ? <Opened desk={desk} keepRef={keepRef} />
          : chosen ? <Chosen plan={plan} desk={desk} work={chosen} onMove={() => setForm(chosen)} onClose={onClose} />
            : <p class="quiet">{t.hint}</p>}
    </section>
  );
}
