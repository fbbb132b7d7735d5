import { useRef } from 'preact/hooks';
import type { OrderView, SlotView, SpecView } from '../ask/ask';
import { kNothingPointed } from '../drawing/pointed';
import { memo } from '../frame/memo';
import { useShop } from '../frame/shop';
import { Mark, Verdict } from '../marks/mark';
import { verdictMark } from '../marks/shape_of';
import { mass, massUs, money } from '../words/amount';
import { dayInWords } from '../words/day';
import { say } from '../words/say';
import { ChoicesPanel, type SlotTools } from './choices_panel';
import { canBeTakenBack, type Step } from './choosing';

const t = say.order;

interface RowProps {
  slot: SlotView;
  isOpen: boolean;
  pointed: SlotTools['pointed'];
  onOpen: (slot: string) => void;
}

function Verdicts({ word }: { word: string }) {
  if (word === 'fits' || word === '') return null;
  const mark = verdictMark(word);
  return <span class={`verdict ${mark.tone}`}><Mark {...mark} /> {word}</span>;
}

const Row = memo(({ slot, isOpen, pointed, onOpen }: RowProps) => {
  const { currency } = useShop();
  const { part } = slot;
  const words = part ? part.name : slot.required ? t.empty : t.emptyOptional;
  const light = () => pointed.set({ slot: slot.slot, touches: [] });
  const dark = () => pointed.set(kNothingPointed);
  const kind = part ? '' : slot.required ? 'lacking' : 'optional';
  const openOf = slot.of > 0 ? say.editor.openOf(slot.open, slot.of) : '';
  return (
    <tr class={`slot ${isOpen ? 'open' : ''} ${kind}`} data-slot={slot.slot}
      onMouseEnter={light} onMouseLeave={dark}>
      <th scope="row">
        {slot.name}{slot.quantity > 1 && <span class="quiet"> {t.quantity(slot.quantity)}</span>}
      </th>
      <td class="chosen-part">
        <button type="button" class="part" aria-expanded={isOpen} tabIndex={-1}
          aria-label={`${words}. ${t.open(slot.name)}${openOf && `, ${openOf}`}`}
          onFocus={light} onBlur={dark} onClick={() => onOpen(isOpen ? '' : slot.slot)}>
          {words}
        </button>
        <Verdicts word={slot.verdict} />
        <span class="open-of quiet">{openOf}</span>
      </td>
      <td class="num">{part && money(part.price_cents, currency, false)}</td>
      <td class="num">
        {part && (part.mass_kg === null ? say.parts.notKnown : mass(part.mass_kg))}
      </td>
      <td class={`num here ${slot.here_on ? 'coming' : ''}`}>{slot.here}</td>
    </tr>
  );
});

interface TakeBackProps {
  view: OrderView;
  last: Step;
  tools: SlotTools;
}

/** What was chosen last on this page, and the way back from it. */
function TakeBack({ view, last, tools }: TakeBackProps) {
  if (!canBeTakenBack(view, last)) return null;
  const slots = Object.keys(last.after);
  const only = view.spec.slots.find(({ slot }) => slot === slots[0]);
  const said = slots.length > 1 || !only ? say.editor.tookOver(slots.length)
    : only.part ? t.nowChosen(only.name, only.part.name) : t.nowEmpty(only.name);
  return (
    <p class="take-back">
      <span role="status">{said}</span>{' '}
      <button type="button" class="plain" disabled={tools.busy}
        onClick={() => tools.onTake(last.before)}>
        {t.undo}
      </button>
    </p>
  );
}

interface SpecProps {
  view: OrderView;
  tools: SlotTools;
  open: string;  // slot whose choices are shown; empty for none
  onOpen: (slot: string) => void;
  day: string;   // day that holds nine times in ten; empty while it is not known
  last: Step | undefined;
}

/** What choosing changes, kept in sight above the rows: verdict, price, mass, day. */
function Running({ view, tools, day, last }: Omit<SpecProps, 'open' | 'onOpen'>) {
  const { currency } = useShop();
  const { spec } = view;
  return (
    <div class="running" data-revision={view.revision}>
      <h2 id="the-spec" tabIndex={-1}>{t.spec}</h2>
      <p>
        <Verdict word={spec.verdict} /> <span>{money(spec.price_cents, currency, false)}</span>{' '}
        <span>{mass(spec.mass_kg)}</span> {day && <span>{t.ninety(dayInWords(day))}</span>}
      </p>
      {last && <TakeBack view={view} last={last} tools={tools} />}
    </div>
  );
}

const Whole = memo(({ spec }: { spec: SpecView }) => {
  const { currency } = useShop();
  return (
    <tfoot>
      <tr>
        <th scope="row">{t.whole}</th><td />
        <td class="num">{money(spec.price_cents, currency, false)}</td>
        <td class="num">
          {mass(spec.mass_kg)}<br /><span class="us">{massUs(spec.mass_kg)}</span>
        </td>
        <td />
      </tr>
    </tfoot>
  );
});

const kMoves: Record<string, (now: number, last: number) => number> = {
  ArrowDown: (now, last) => Math.min(last, now + 1), ArrowUp: (now) => Math.max(0, now - 1),
  Home: () => 0, End: (_, last) => last,
};

const slotButtons = (table: Element | null) =>
  [...(table?.querySelectorAll<HTMLElement>('tr.slot button.part') ?? [])];

/**
 * Keys of the table: arrows lead from one position to the next, and Escape closes the open one. Tab
 * reaches one position only, the one that was visited last.
 */
function useSlotKeys(open: string, onOpen: (slot: string) => void) {
  const table = useRef<HTMLTableElement>(null);
  const visit = (button: HTMLElement) => {
    for (const other of slotButtons(table.current)) other.tabIndex = other === button ? 0 : -1;
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const buttons = slotButtons(table.current);
    if (event.key === 'Escape' && open) {
      onOpen('');
      buttons.find((button) => button.closest('tr')?.dataset['slot'] === open)?.focus();
      return;
    }
    const now = buttons.indexOf(event.target as HTMLElement);
    const move = kMoves[event.key];
    if (now < 0 || !move) return;
    event.preventDefault();
    buttons[move(now, buttons.length - 1)]?.focus();
  };
  const onFocusIn = (event: FocusEvent) => {
    const button = event.target as HTMLElement;
    if (button.matches('tr.slot button.part')) visit(button);
  };
  // Before any was visited, Tab reaches the first.
  const first = (element: HTMLTableElement | null) => {
    table.current = element;
    const buttons = slotButtons(element);
    if (buttons[0] && buttons.every((button) => button.tabIndex < 0)) visit(buttons[0]);
  };
  return { onKeyDown, onFocusIn, ref: first };
}

/** The specification in slot order; the choices of the open slot stand right under it. */
export function SpecTable({ view, tools, open, onOpen, day, last }: SpecProps) {
  const { spec } = view;
  const keys = useSlotKeys(open, onOpen);
  return (
    <section class="spec" aria-labelledby="the-spec">
      <Running view={view} tools={tools} day={day} last={last} />
      <table {...keys}>
        <thead>
          <tr>
            <th scope="col">{t.position}</th><th scope="col">{t.part}</th>
            <th scope="col" class="num">{t.price}</th><th scope="col" class="num">{t.mass}</th>
            <th scope="col" class="num">{t.here}</th>
          </tr>
        </thead>
        {spec.slots.map((slot) => (
          <tbody key={slot.slot}>
            <Row slot={slot} isOpen={open === slot.slot} pointed={tools.pointed} onOpen={onOpen} />
            {open === slot.slot && (
              <tr class="opened">
                <td colSpan={5}>
                  <ChoicesPanel slot={slot.slot} filled={slot.part !== null} tools={tools} />
                </td>
              </tr>
            )}
          </tbody>
        ))}
        <Whole spec={spec} />
      </table>
      <p class="keys quiet">{say.editor.openOne}</p>
    </section>
  );
}
