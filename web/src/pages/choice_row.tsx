import type { ChoiceView } from '../ask/ask';
import { memo } from '../frame/memo';
import { useShop } from '../frame/shop';
import { Status } from '../marks/mark';
import { mass, massDifference, money, moneyDifference } from '../words/amount';
import { say } from '../words/say';

const t = say.editor;

export const mayNotBeChosen = ({ status }: ChoiceView) => status === 'closed';

/** Room of a row, all in rem: list and look have to agree on it. */
const kRoom = {
  wide: { base: 3.3, beside: 11, most: 2 }, slim: { base: 5.6, beside: 2, most: 2 },
};
const kLine = 1.26;        // a line of the note
const kCharacter = 0.455;  // rather more than a letter takes on the average

/** Height of a row in rem, in a list of this width: a note takes one line or two. */
export function rowHeight(choice: ChoiceView, width: number, slim: boolean): number {
  const { base: whole, beside, most } = slim ? kRoom.slim : kRoom.wide;
  // A slim row has a line of its own for the figures, which a closed part has not.
  const base = slim && mayNotBeChosen(choice) ? whole - kLine : whole;
  if (!choice.note || choice.chosen) return base;
  const lines = Math.ceil((choice.note.length * kCharacter) / (width - beside));
  return base + 0.25 + kLine * Math.min(most, Math.max(1, lines));
}

/** What is not filled is not known: because the search was stopped, or because a fact lacks. */
function words(value: number | null, proven: boolean, said: (n: number) => string, none: string) {
  return value !== null ? said(value) : proven ? none : t.notProven;
}

/** Own figures of the part that is chosen; what changes for any other; nothing for a closed one. */
function useFigures(choice: ChoiceView): [string, string, string] {
  const { currency } = useShop();
  const { part, proven } = choice;
  if (choice.chosen) {
    const kg = part.mass_kg;
    return [money(part.price_cents, currency, false), kg === null ? say.parts.notKnown : mass(kg),
      choice.here];
  }
  if (mayNotBeChosen(choice)) return [t.nothing, t.nothing, t.nothing];
  const price = (n: number) => (n === 0 ? say.order.same : moneyDifference(n, currency));
  const kg = (n: number) => (n === 0 ? say.order.sameMass : massDifference(n));
  return [
    words(choice.price_difference_cents, proven, price, t.nothing),
    words(choice.mass_difference_kg, proven, kg, say.order.massNotKnown),
    words(choice.ready_difference_days, proven, t.days, t.dayNotKnown),
  ];
}

export interface ChoiceRowProps {
  choice: ChoiceView;
  top: number;      // pixels
  height: number;
  at: number;       // place in the list, from 1
  of: number;
  inHand: boolean;  // the one row that Tab reaches
}

/** One part of the list: what it is, whether it can be chosen, and what choosing it changes. */
export const ChoiceRow = memo(({ choice, top, height, at, of, inHand }: ChoiceRowProps) => {
  const { part, status, chosen } = choice;
  const closed = mayNotBeChosen(choice);
  const [price, kg, day] = useFigures(choice);
  const kind = `choice ${chosen ? 'chosen' : ''} ${closed ? 'closed' : ''} ${inHand ? 'hand' : ''}`;
  return (
    <div role="option" class={kind} data-part={part.id} tabIndex={inHand ? 0 : -1}
      aria-selected={chosen} aria-disabled={closed || undefined}
      aria-posinset={at} aria-setsize={of}
      style={{ top: `${top}px`, height: `${height}px` }}>
      <span class="status">
        <Status word={status}>{chosen ? say.order.chosen : status}</Status>
      </span>
      <span class="what">
        <span class="name">{part.name}</span>
        <span class="maker">{part.maker} · {part.id}</span>
      </span>
      <span class="num price">{price}</span>
      <span class="num mass">{kg}</span>
      <span class="num day">
        {day}{!chosen && choice.here && <span class="here">{choice.here}</span>}
      </span>
      {choice.note && !chosen && <span class={closed ? 'note stop' : 'note'}>{choice.note}</span>}
    </div>
  );
});
