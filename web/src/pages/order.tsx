import { useCallback, useMemo, useRef, useState } from 'preact/hooks';
import { ask, type OrderView } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { Bike, BikeInSight } from '../drawing/bike';
import { kNothingPointed, type PointedStore } from '../drawing/pointed';
import { memo } from '../frame/memo';
import { benchPath, carePath, historyPath, labelsPath, makerPath, pdfPath, sheetPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { createStore } from '../frame/store';
import { Body, Refused } from '../marks/waiting';
import { bench } from '../words/bench';
import { labelWords } from '../words/labels';
import { careWords } from '../words/care';
import { makerWords } from '../words/maker';
import { say } from '../words/say';
import { AgreePanel, mayBeAgreed } from './agree_panel';
import type { SlotTools } from './choices_panel';
import { type Choices, useChoosing } from './choosing';
import { DoesPanel } from './does_panel';
import { EnquiryPanel } from './enquiry_panel';
import { FillPanel, StillPossible } from './fill_panel';
import { Findings, JobCard, Numbers, States } from './order_parts';
import { LifePanel } from './life_panel';
import { PromisePanel, usePromise } from './promise_panel';
import { QuestionsPanel } from './questions_panel';
import { isBroken, RepairsPanel } from './repairs';
import { SoonerPanel } from './sooner_panel';
import { SpecTable } from './spec_table';
import { WheelLinks } from './wheel_links';

const t = say.order;

const Papers = memo(({ id }: { id: string }) => (
  <p class="papers">
    <a href={benchPath(id)}>{t.sheet}</a> <a href={sheetPath(id)}>{t.full}</a> <a href={historyPath(id)}>{bench.operation.history}</a>{' '}
    <a href={pdfPath(id)} target="_blank" rel="noopener">{t.pdf}</a>{' '}
    <a href={labelsPath({ orders: [id] })}>{labelWords.link}</a>
  </p>
));

/** A bike that a maker builds has a page of its own for form and lists. */
function MakerLink({ view }: { view: OrderView }) {
  const { builds } = useShop();
  if (!builds.find(({ id }) => id === view.build_id)?.maker_built) return null;
  return <p class="papers"><a href={makerPath(view.line.id)}>{makerWords.link}</a></p>;
}

/** A bike that was handed over comes back: its visits have a page of their own. */
function CareLink({ view }: { view: OrderView }) {
  if (!['handed over', 'in care', 'closed'].includes(view.line.state.toLowerCase())) return null;
  return <p class="papers"><a href={carePath(view.line.id)}>{careWords.link}</a></p>;
}

const slotButton = (slot: string) =>
  document.querySelector<HTMLElement>(`tr[data-slot="${CSS.escape(slot)}"] button.part`);

function goToSlot(slot: string) {
  const button = slotButton(slot);
  button?.closest('tr')?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  button?.focus({ preventScroll: true });
}

/** Which slot is open; opening one from elsewhere (the drawing, a finding) leads to its row. */
function useOpenSlot(view: OrderView) {
  const [open, setOpen] = useState('');
  const now = useRef(view);
  now.current = view;
  const visit = useCallback((slots: string[]) => {
    const slot = now.current.spec.slots.find((s) => slots.includes(s.slot));
    if (!slot) return;
    goToSlot(slot.slot);
    setOpen(slot.slot);
  }, []);
  return { open, setOpen, visit };
}

interface HeadProps {
  view: OrderView;
}

function Head({ view }: HeadProps) {
  const { need, line, held_because: held } = view;
  return (
    <div class="order-head">
      <p class="need">{need.words} <span class="quiet">{line.build}.</span></p>
      {line.flags.length > 0 && (
        <p class="flags">
          {line.flags.map((flag) => <span key={flag} class="flag">{flag}</span>)}
        </p>
      )}
      {held && <p class="held">{t.held(held)}</p>}
      <States states={view.states} />
      <JobCard view={view} />
    </div>
  );
}

interface OneOrderProps {
  view: OrderView;
  heard: number;  // answers about this order since its page is shown
  put: (view: OrderView) => void;
  again: () => void;
}

/** What the choices of a slot need; another value only when one of its pieces is another. */
function useSlotTools(view: OrderView, pointed: PointedStore, choosing: SlotToolsPart): SlotTools {
  const { line: { id, state }, revision } = view;
  const { busy, take, close } = choosing;
  return useMemo(() => ({
    view, order: id, revision, signed: !mayBeAgreed(state), busy, pointed,
    onTake: take, onClose: close,
  }), [view, busy, pointed, take, close]);
}

interface SlotToolsPart {
  busy: boolean;
  take: SlotTools['onTake'];
  close: () => void;
}

function OneOrder({ view, heard, put, again }: OneOrderProps) {
  const { id, state } = view.line;
  const pointed = useMemo(() => createStore(kNothingPointed), []);
  const { open, setOpen, visit } = useOpenSlot(view);
  const promise = usePromise(id, view.no_promise, heard);
  const { busy, refusal, take, last } = useChoosing(view, put, again);
  const close = useCallback(() => {
    setOpen((now) => {
      slotButton(now)?.focus();
      return '';
    });
  }, []);
  // The panels that fill and mend go away once they are done; what they did is told at the table.
  const takeOver = useCallback((choices: Choices) => {
    document.getElementById('the-spec')?.focus();
    take(choices);
  }, [take]);
  const tools = useSlotTools(view, pointed, { busy, take, close });
  // A day is only worth proposing for a whole bike.
  const empty = view.spec.missing.length;
  const likely = empty === 0 ? promise.value?.day_90 ?? '' : '';
  const chooses = mayBeAgreed(state);
  return (
    <>
      <Head view={view} />
      <div class="order-body">
        <div class="bench-side">
          <Bike view={view} pointed={pointed} open={open} onTouch={visit} />
          <Findings spec={view.spec} onSlot={visit} />
          {refusal && <Refused refusal={refusal} />}
          {chooses && <StillPossible view={view} />}
          {chooses && isBroken(view) && (
            <RepairsPanel view={view} busy={busy} onTake={takeOver} />
          )}
          {chooses && empty > 0 && !isBroken(view) && (
            <FillPanel view={view} busy={busy} onTake={takeOver} />
          )}
          <SpecTable view={view} tools={tools} open={open} onOpen={setOpen} day={likely}
            last={last} />
          <QuestionsPanel view={view} put={put} again={again} />
        </div>
        <div class="desk-side">
          <PromisePanel answered={promise} none={view.no_promise} empty={empty} />
          {!view.no_promise && (
            <SoonerPanel id={id} revision={view.revision} hidden={empty > 0} onSlot={visit} />
          )}
          {chooses && <AgreePanel view={view} likely={likely} onAgreed={put} />}
          <MakerLink view={view} />
          <CareLink view={view} />
          {view.may_be_followed_up && <EnquiryPanel key={view.revision} view={view} put={put} />}
          <LifePanel id={id} again={again} />
          <DoesPanel view={view} />
          <Numbers numbers={view.numbers} />
          <Papers id={id} />
          <WheelLinks view={view} />
          <BikeInSight view={view} pointed={pointed} open={open} />
        </div>
      </div>
    </>
  );
}

/** Longer than a choice takes from key to paint: the echo of it does not get in its way. */
const kCalm = 300;  // milliseconds

export function OrderPage({ id }: { id: string }) {
  const answered = useAnswer(`order ${id}`, () => ask.order(id), concernsOrder(id), kCalm);
  return (
    <div class="page order">
      <h1><span class="number">{id}</span> {answered.value?.line.rider}</h1>
      <Body answered={answered}>
        {(view) => <OneOrder view={view} heard={answered.heard} put={answered.put} again={answered.again} />}
      </Body>
    </div>
  );
}
