import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import {
  ask, type Changed, type ChoiceView, type OrderView, type SlotChoicesView,
} from '../ask/ask';
import { useAnswer, useFreshFor } from '../ask/use_answer';
import { kNothingPointed, type PointedStore } from '../drawing/pointed';
import { Refused, Waiting } from '../marks/waiting';
import { say } from '../words/say';
import {
  choicesThatMatch, isOpen, kSorts, type Sort, sortedChoices, soughtChoices, startsSearch,
} from './choice_list';
import { ChoiceRow, mayNotBeChosen } from './choice_row';
import { useWalk, type Walk } from './choice_walk';
import type { Choices } from './choosing';
import { askWhyNot, clashKnown, touchesOf } from './clashes';
import { PartInHand } from './part_in_hand';

const t = say.editor;

/** What an opened slot needs of its order; the same for all slots. */
export interface SlotTools {
  view: OrderView;
  order: string;
  revision: number;
  signed: boolean;  // to be looked at only
  busy: boolean;    // a choice is on its way
  pointed: PointedStore;
  onTake: (choices: Choices) => void;
  onClose: () => void;
}

interface HeadProps {
  slot: string;  // name
  all: ChoiceView[];
  shown: ChoiceView[];
  typed: string;
  sort: Sort;
  onTyped: (typed: string) => void;
  onSort: (sort: Sort) => void;
  onDown: () => void;  // from the field into the list
}

function Sorts({ slot, sort, onSort }: Pick<HeadProps, 'slot' | 'sort' | 'onSort'>) {
  return (
    <fieldset class="sorts">
      <legend>{t.sortedBy}</legend>
      {kSorts.map((one) => (
        <label key={one} class={one === sort ? 'now' : ''}>
          <input type="radio" class="unseen" name={`sort ${slot}`} checked={one === sort}
            onChange={() => onSort(one)} />
          {t.sorts[one]}
        </label>
      ))}
    </fieldset>
  );
}

function Head({ slot, all, shown, typed, sort, onTyped, onSort, onDown }: HeadProps) {
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'ArrowDown' || event.key === 'Enter' || event.key === 'PageDown') {
      event.preventDefault();
      onDown();
    } else if (event.key === 'Escape' && typed) {
      event.stopPropagation();
      onTyped('');
    }
  };
  const open = shown.filter(isOpen).length;
  return (
    <div class="choices-head">
      <input type="text" class="find-part" value={typed} autocomplete="off" spellcheck={false}
        aria-label={t.find(slot)} placeholder={t.findHere(all.length)} onKeyDown={onKeyDown}
        onInput={(event) => onTyped(event.currentTarget.value)} />
      <Sorts slot={slot} sort={sort} onSort={onSort} />
      <p class="tells" role="status">
        {shown.length === 0 && typed ? t.noMatch(typed) : t.shown(shown.length, all.length, open)}
      </p>
    </div>
  );
}

/** Points the drawing at a part; a closed part that rests under the hand is asked about. */
function usePointing(tools: SlotTools, slot: string) {
  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const revision = useRef(tools.revision);
  revision.current = tools.revision;
  useEffect(() => () => {
    clearTimeout(waiting.current);
    tools.pointed.set(kNothingPointed);
  }, []);
  return (choice: ChoiceView | undefined) => {
    clearTimeout(waiting.current);
    if (!choice) return tools.pointed.set(kNothingPointed);
    const wanted = {
      order: tools.order, revision: tools.revision, slot, part: choice.part.id,
    };
    const pointed = { slot, touches: touchesOf(choice, slot, clashKnown(wanted)) };
    tools.pointed.set(pointed);
    if (!mayNotBeChosen(choice) || choice.touches.length > 0) return;
    waiting.current = setTimeout(() => {
      if (revision.current !== wanted.revision) return;  // it may be open by now
      askWhyNot(wanted).then((clash) => {
        if (tools.pointed.get() !== pointed) return;
        tools.pointed.set({ slot, touches: touchesOf(choice, slot, clash) });
      }, () => undefined);  // whoever wants to know presses "Why not?" and is told what went wrong
    }, 250);
  };
}

interface ListProps {
  name: string;
  walk: Walk;
  signed: boolean;
  onPoint: (choice: ChoiceView | undefined) => void;
  onEnter: (choice: ChoiceView) => void;
}

function List({ name, walk, signed, onPoint, onEnter }: ListProps) {
  const { rows, tops } = walk;
  const kind = `choice-box ${walk.slim ? 'slim' : ''} ${signed ? 'signed' : ''}`;
  const rowOf = (event: Event) => {
    const row = (event.target as HTMLElement).closest<HTMLElement>('[data-part]');
    return rows.findIndex(({ part }) => part.id === row?.dataset['part']);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (walk.onKey(event)) return;
    if (event.key !== 'Enter' && event.key !== ' ') return;
    event.preventDefault();
    if (walk.inHand && !event.repeat) onEnter(walk.inHand);
  };
  // A list that scrolls under a resting mouse does not point at anything new.
  const over = useRef(-1);
  const onMouseMove = (event: MouseEvent) => {
    const row = rowOf(event);
    if (row === over.current || (event.movementX === 0 && event.movementY === 0)) return;
    over.current = row;
    onPoint(rows[row] ?? walk.inHand);
  };
  const onMouseLeave = () => {
    over.current = -1;
    onPoint(walk.inHand);
  };
  const onClick = (event: MouseEvent) => {
    const row = rowOf(event);
    const choice = rows[row];
    if (!choice) return;
    walk.take(row, true);
    onEnter(choice);
  };
  return (
    <div ref={walk.box} class={kind} onClick={onClick} onKeyDown={onKeyDown}
      onMouseMove={onMouseMove}
      onMouseLeave={onMouseLeave}
      onFocusIn={(event) => onPoint(rows[rowOf(event)])}>
      <div role="listbox" aria-label={name} style={{ height: `${tops.at(-1) ?? 0}px` }}>
        {walk.drawn.map((i) => {
          const choice = rows[i];
          const top = tops[i] ?? 0;
          return choice && (
            <ChoiceRow key={choice.part.id} choice={choice} top={top} at={i + 1} of={rows.length}
              height={(tops[i + 1] ?? top) - top} inHand={i === walk.at} />
          );
        })}
      </div>
    </div>
  );
}

interface OpenedProps {
  view: SlotChoicesView;
  filled: boolean;
  tools: SlotTools;
}

/** Puts the reader into the list when the slot was opened, wherever the choices come from. */
function useArrival(panel: { current: HTMLElement | null }, arrive: () => void) {
  useLayoutEffect(() => {
    panel.current?.closest('tbody')?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
    const { activeElement } = document;
    const here = panel.current?.closest('tbody')?.contains(activeElement);
    if (here || activeElement === document.body) arrive();
  }, []);
}

function Opened({ view, filled, tools }: OpenedProps) {
  const { slot, name } = view;
  const panel = useRef<HTMLDivElement>(null);
  const [typed, setTyped] = useState('');
  const [sort, setSort] = useState<Sort>('fit');
  const [asked, setAsked] = useState('');  // the closed part that somebody wants to know about
  const sorted = useMemo(() => sortedChoices(view.choices, sort), [view.choices, sort]);
  const sought = useMemo(() => soughtChoices(sorted), [sorted]);
  const rows = useMemo(() => choicesThatMatch(sought, typed), [sought, typed]);
  const walk = useWalk(rows, rows.find(({ chosen }) => chosen)?.part.id ?? '');
  const point = usePointing(tools, slot);
  const field = () => panel.current?.querySelector<HTMLInputElement>('.find-part');

  useArrival(panel, () => {
    if (rows.length > 0) walk.take(walk.at, true);
    else field()?.focus({ preventScroll: true });
  });
  // What was pressed is gone once it is done; the row stays, and with it the place of the reader.
  const takeFrom = (choices: Choices) => {
    walk.take(walk.at, true);
    setAsked('');
    tools.onTake(choices);
  };
  const take = (part: string | null) => takeFrom({ [slot]: part });
  const enter = (choice: ChoiceView) => {
    if (mayNotBeChosen(choice)) setAsked(choice.part.id);
    else if (!choice.chosen && !tools.signed) take(choice.part.id);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (!(event.target instanceof HTMLInputElement) && startsSearch(event)) field()?.focus();
  };
  const narrowBy = (words: string) => {
    setTyped(words);
    walk.scrollTo(0);
  };
  return (
    <div ref={panel} class="choices" onKeyDown={onKeyDown}>
      {tools.signed && <p class="signed">{say.order.signed}</p>}
      <Head slot={name} all={view.choices} shown={rows} typed={typed} sort={sort} onTyped={narrowBy}
        onSort={(one) => { setSort(one); walk.scrollTo(0); }}
        onDown={() => walk.take(walk.at, true)} />
      {rows.length > 0 && (
        <List name={t.list(name)} walk={walk} signed={tools.signed} onPoint={point}
          onEnter={enter} />
      )}
      {walk.inHand && (
        <PartInHand key={walk.inHand.part.id} choice={walk.inHand} slot={slot} tools={tools}
          asked={asked === walk.inHand.part.id} onAsk={setAsked} onTake={takeFrom} />
      )}
      <p class="choices-foot">
        <span class="keys quiet">{tools.signed ? t.keysSigned : t.keys}</span>
        {view.may_be_empty && filled && !tools.signed && (
          <button type="button" class="plain" disabled={tools.busy} onClick={() => take(null)}>
            {say.order.leaveEmpty}
          </button>
        )}
        <button type="button" class="plain" onClick={tools.onClose}>{t.close}</button>
      </p>
    </div>
  );
}

/** Changes of the shop at large; those of this order come with its revision. */
const concernsShop = (changed: Changed) => changed.order === '';

interface PanelProps {
  slot: string;
  filled: boolean;
  tools: SlotTools;
}

/** The parts for one slot. While newer answers come, the old ones stay where they are. */
export function ChoicesPanel({ slot, filled, tools }: PanelProps) {
  const { order, revision } = tools;
  const answered = useAnswer(
    `choices ${order} ${slot}`,
    async () => ({ revision, view: await ask.choices(order, slot) }), concernsShop);
  useFreshFor(revision, answered.now);
  const { value, refusal } = answered;
  if (refusal) return <Refused refusal={refusal} again={answered.again} />;
  if (!value) return <Waiting />;
  if (value.view.choices.length === 0) return <p>{say.order.noChoices}</p>;
  return (
    <div data-revision={value.revision}>
      <Opened view={value.view} filled={filled} tools={tools} />
    </div>
  );
}
