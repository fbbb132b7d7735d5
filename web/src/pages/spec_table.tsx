import { ask, type ChoiceView, type OrderView, type SlotView } from '../ask/ask';
import { concernsOrder, useAnswer, useFreshFor } from '../ask/use_answer';
import { partPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Mark, Status, Verdict } from '../marks/mark';
import { verdictMark } from '../marks/shape_of';
import { Refused, Waiting } from '../marks/waiting';
import { mass, massDifference, massUs, money, moneyDifference } from '../words/amount';
import { dayInWords } from '../words/day';
import { say } from '../words/say';
import { mayBeAgreed } from './agree_panel';
import { WhyNot } from './why_not';

const t = say.order;

export interface SpecTools {
  view: OrderView;
  open: string;                                   // slot whose choices are shown; empty for none
  busy: string;                                   // part that is being chosen
  onOpen: (slot: string) => void;
  onLight: (slot: string) => void;
  onChoose: (slot: string, part: string | null) => void;
}

export const mayNotBeChosen = (status: string) => status === 'closed';
const isSigned = (tools: SpecTools) => !mayBeAgreed(tools.view.line.state);

function Difference({ choice }: { choice: ChoiceView }) {
  const { currency } = useShop();
  const price = choice.price_difference_cents;
  const kg = choice.mass_difference_kg;
  if (choice.chosen) return <><td class="num">{money(choice.part.price_cents, currency, false)}</td><td class="num">{choice.part.mass_kg === null ? '' : mass(choice.part.mass_kg)}</td></>;
  return (
    <>
      <td class="num">{price === 0 ? t.same : moneyDifference(price, currency)}</td>
      <td class="num">{kg === null ? t.massNotKnown : kg === 0 ? t.sameMass : massDifference(kg)}</td>
    </>
  );
}

function Choice({ choice, slot, tools }: { choice: ChoiceView; slot: string; tools: SpecTools }) {
  const { part, status } = choice;
  const closed = mayNotBeChosen(status);
  const name = <>{part.name} <span class="maker">{part.maker}</span></>;
  return (
    <tr class={`choice ${choice.chosen ? 'chosen' : ''} ${closed ? 'closed' : ''}`}>
      <td class="status"><Status word={status}>{choice.chosen ? t.chosen : status}</Status></td>
      <td>
        {choice.chosen || closed || isSigned(tools)
          ? <a class="name" href={partPath(part.id)}>{name}</a>
          : (
            <button type="button" class="pick" disabled={tools.busy !== ''} onClick={() => tools.onChoose(slot, part.id)}>
              {name}{tools.busy === part.id && <i> {t.choosing}</i>}
            </button>
          )}
        {choice.note && <p class={closed ? 'note stop' : 'note'}>{choice.note}</p>}
        {closed && <WhyNot order={tools.view.line.id} slot={slot} part={part.id} />}
      </td>
      <Difference choice={choice} />
      <td class="num">{choice.here}</td>
    </tr>
  );
}

function Choices({ slot, tools }: { slot: SlotView; tools: SpecTools }) {
  const id = tools.view.line.id;
  const answered = useAnswer(`choices ${id} ${slot.slot}`, () => ask.choices(id, slot.slot), concernsOrder(id));
  useFreshFor(tools.view.revision, answered.again);
  const { value, refusal } = answered;
  if (refusal) return <tr class="choice"><td colSpan={5}><Refused refusal={refusal} again={answered.again} /></td></tr>;
  if (!value) return <tr class="choice"><td colSpan={5}><Waiting /></td></tr>;
  return (
    <>
      {isSigned(tools) && <tr class="choice"><td colSpan={5}>{t.signed}</td></tr>}
      {value.choices.length === 0 && <tr class="choice"><td colSpan={5}>{t.noChoices}</td></tr>}
      {value.choices.map((choice) => <Choice key={choice.part.id} choice={choice} slot={slot.slot} tools={tools} />)}
      {value.may_be_empty && slot.part && !isSigned(tools) && (
        <tr class="choice">
          <td /><td colSpan={4}><button type="button" class="pick" disabled={tools.busy !== ''} onClick={() => tools.onChoose(slot.slot, null)}>{t.leaveEmpty}</button></td>
        </tr>
      )}
    </>
  );
}

function Row({ slot, tools }: { slot: SlotView; tools: SpecTools }) {
  const { currency } = useShop();
  const { part } = slot;
  const isOpen = tools.open === slot.slot;
  const mark = verdictMark(slot.verdict);
  const plain = slot.verdict === 'fits' || slot.verdict === '';
  const unset = slot.required ? t.empty : t.emptyOptional;
  return (
    <tr class={`slot ${isOpen ? 'open' : ''} ${part ? '' : slot.required ? 'lacking' : 'optional'}`} data-slot={slot.slot}
      onMouseEnter={() => tools.onLight(slot.slot)} onMouseLeave={() => tools.onLight('')}>
      <th scope="row">{slot.name}{slot.quantity > 1 && <span class="quiet"> {t.quantity(slot.quantity)}</span>}</th>
      <td>
        <button type="button" class="part" aria-expanded={isOpen} aria-label={`${part ? part.name : unset}. ${t.open(slot.name)}`}
          onFocus={() => tools.onLight(slot.slot)} onBlur={() => tools.onLight('')} onClick={() => tools.onOpen(isOpen ? '' : slot.slot)}>
          {part ? part.name : unset}
        </button>
        {!plain && <span class={`verdict ${mark.tone}`}><Mark {...mark} /> {slot.verdict}</span>}
      </td>
      <td class="num">{part && money(part.price_cents, currency, false)}</td>
      <td class="num">{part && (part.mass_kg === null ? say.parts.notKnown : mass(part.mass_kg))}</td>
      <td class={`num here ${slot.here_on ? 'coming' : ''}`}>{slot.here}</td>
    </tr>
  );
}

/** What was chosen last on this page, so that it can be taken back. */
export interface LastChoice {
  slot: string;
  before: string | null;
}

function TakeBack({ last, tools }: { last: LastChoice; tools: SpecTools }) {
  const slot = tools.view.spec.slots.find((s) => s.slot === last.slot);
  if (!slot || (slot.part?.id ?? null) === last.before) return null;
  return (
    <p class="take-back" role="status">
      {slot.part ? t.nowChosen(slot.name, slot.part.name) : t.nowEmpty(slot.name)}{' '}
      <button type="button" class="plain" disabled={tools.busy !== ''} onClick={() => tools.onChoose(last.slot, last.before)}>{t.undo}</button>
    </p>
  );
}

/** What choosing changes, kept in sight above the rows: verdict, price, mass, day. */
function Running({ tools, day, last }: { tools: SpecTools; day: string; last: LastChoice | undefined }) {
  const { currency } = useShop();
  const { spec } = tools.view;
  return (
    <div class="running">
      <h2 id="the-spec">{t.spec}</h2>
      <p>
        <Verdict word={spec.verdict} /> <span>{money(spec.price_cents, currency, false)}</span> <span>{mass(spec.mass_kg)}</span>{' '}
        {day && <span>{t.ninety(dayInWords(day))}</span>}
      </p>
      {last && <TakeBack last={last} tools={tools} />}
    </div>
  );
}

/** The specification in slot order; the choices of the open slot stand right under it. */
export function SpecTable({ tools, day, last }: { tools: SpecTools; day: string; last: LastChoice | undefined }) {
  const { currency } = useShop();
  const { spec } = tools.view;
  return (
    <section class="spec" aria-labelledby="the-spec">
      <Running tools={tools} day={day} last={last} />
      <table onKeyDown={(event) => event.key === 'Escape' && tools.onOpen('')}>
        <thead>
          <tr>
            <th scope="col">{t.position}</th><th scope="col">{t.part}</th><th scope="col" class="num">{t.price}</th>
            <th scope="col" class="num">{t.mass}</th><th scope="col" class="num">{t.here}</th>
          </tr>
        </thead>
        {spec.slots.map((slot) => (
          <tbody key={slot.slot}>
            <Row slot={slot} tools={tools} />
            {tools.open === slot.slot && <Choices slot={slot} tools={tools} />}
          </tbody>
        ))}
        <tfoot>
          <tr>
            <th scope="row">{t.whole}</th><td /><td class="num">{money(spec.price_cents, currency, false)}</td>
            <td class="num">{mass(spec.mass_kg)}<br /><span class="us">{massUs(spec.mass_kg)}</span></td><td />
          </tr>
        </tfoot>
      </table>
    </section>
  );
}
