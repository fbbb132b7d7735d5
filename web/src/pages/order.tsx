import { useState } from 'preact/hooks';
import { ask, type OrderView, Refusal } from '../ask/ask';
import { concernsOrder, useAnswer, useFreshFor } from '../ask/use_answer';
import { Bike, BikeInSight } from '../drawing/bike';
import { benchPath, pdfPath, sheetPath } from '../frame/route';
import { Body, Refused } from '../marks/waiting';
import { say } from '../words/say';
import { AgreePanel, mayBeAgreed } from './agree_panel';
import { Findings, JobCard, Numbers, States } from './order_parts';
import { PromisePanel, usePromise } from './promise_panel';
import { type LastChoice, SpecTable } from './spec_table';

const t = say.order;

/** Choosing a part: sends it with the revision that was looked at, and shows what came of it. */
function useChoosing(view: OrderView, put: (view: OrderView) => void, again: () => void) {
  const [busy, setBusy] = useState('');
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [last, setLast] = useState<LastChoice | undefined>(undefined);
  const choose = async (slot: string, part: string | null) => {
    setBusy(part ?? 'none');
    setRefusal(undefined);
    const before = view.spec.slots.find((s) => s.slot === slot)?.part?.id ?? null;
    try {
      put(await ask.choose(view.line.id, slot, { part, revision: view.revision }));
      setLast({ slot, before });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
      if (error.view.code === 'conflict') again();
    } finally {
      setBusy('');
    }
  };
  return { busy, refusal, choose, last };
}

function Papers({ id }: { id: string }) {
  return (
    <p class="papers">
      <a href={benchPath(id)}>{t.sheet}</a> <a href={sheetPath(id)}>{t.full}</a>{' '}
      <a href={pdfPath(id)} target="_blank" rel="noopener">{t.pdf}</a>
    </p>
  );
}

function scrollToSlot(slot: string) {
  const row = document.querySelector(`tr[data-slot="${CSS.escape(slot)}"]`);
  row?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  row?.querySelector('button')?.focus({ preventScroll: true });
}

interface OneOrderProps {
  view: OrderView;
  put: (view: OrderView) => void;
  again: () => void;
}

function OneOrder({ view, put, again }: OneOrderProps) {
  const { id, state } = view.line;
  const [open, setOpen] = useState('');
  const [lit, setLit] = useState('');
  const promise = usePromise(id, view.no_promise);
  const { busy, refusal, choose, last } = useChoosing(view, put, again);
  useFreshFor(view.revision, promise.again);
  // A day is only worth proposing for a whole bike.
  const empty = view.spec.missing.length;
  const likely = empty === 0 ? promise.value?.day_90 ?? '' : '';

  const touch = (slots: string[]) => {
    const slot = view.spec.slots.find((s) => slots.includes(s.slot));
    if (!slot) return;
    setOpen(slot.slot);
    scrollToSlot(slot.slot);
  };
  return (
    <>
      <div class="order-head">
        <p class="need">{view.need.words} <span class="quiet">{view.line.build}.</span></p>
        {view.line.flags.length > 0 && <p class="flags">{view.line.flags.map((flag) => <span key={flag} class="flag">{flag}</span>)}</p>}
        {view.held_because && <p class="held">{t.held(view.held_because)}</p>}
        <States states={view.states} />
        <JobCard view={view} />
      </div>
      <div class="order-body">
        <div class="bench-side">
          <Bike view={view} lit={lit || open} onTouch={touch} />
          <Findings spec={view.spec} />
          {refusal && <Refused refusal={refusal} />}
          <SpecTable day={likely} last={last} tools={{ view, open, busy, onOpen: setOpen, onLight: setLit, onChoose: choose }} />
        </div>
        <div class="desk-side">
          <PromisePanel answered={promise} none={view.no_promise} empty={empty} />
          {mayBeAgreed(state) && <AgreePanel view={view} likely={likely} onAgreed={put} />}
          <Numbers numbers={view.numbers} />
          <Papers id={id} />
          <BikeInSight view={view} lit={lit || open} />
        </div>
      </div>
    </>
  );
}

export function OrderPage({ id }: { id: string }) {
  const answered = useAnswer(`order ${id}`, () => ask.order(id), concernsOrder(id));
  return (
    <div class="page order">
      <h1><span class="number">{id}</span> {answered.value?.line.rider}</h1>
      <Body answered={answered}>
        {(view) => <OneOrder view={view} put={answered.put} again={answered.again} />}
      </Body>
    </div>
  );
}
