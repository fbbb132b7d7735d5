import { useEffect, useState } from 'preact/hooks';
import { type ChoiceView, type ClashView, Refusal } from '../ask/ask';
import { BikeInSight } from '../drawing/bike';
import { partPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Status } from '../marks/mark';
import { mass, money } from '../words/amount';
import { say } from '../words/say';
import { mayNotBeChosen } from './choice_row';
import type { SlotTools } from './choices_panel';
import type { Choices } from './choosing';
import { askWhyNot, touchesOf } from './clashes';
import { WhyNot } from './why_not';

const t = say.editor;

/** Screens on which the drawing is scrolled away while a position is open. */
const kSmall = matchMedia('(max-width: 960px)');

interface InHandProps {
  choice: ChoiceView;
  slot: string;
  tools: SlotTools;
  asked: boolean;  // somebody wants to know why it is closed
  onAsk: (part: string) => void;
  onTake: (choices: Choices) => void;
}

function Own({ choice }: { choice: ChoiceView }) {
  const { currency } = useShop();
  const { part, here } = choice;
  const figures = [
    money(part.price_cents, currency, false),
    part.mass_kg === null ? say.order.massNotKnown : mass(part.mass_kg), here,
  ];
  return <span class="own">{figures.filter(Boolean).join(' · ')}</span>;
}

/** The answer to "why not?", asked for when somebody wants to know, and again after a change. */
function useClash({ choice, slot, tools, asked }: InHandProps) {
  const [clash, setClash] = useState<ClashView | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  useEffect(() => {
    if (!asked) return undefined;
    let wanted = true;
    const { order, revision, pointed } = tools;
    askWhyNot({ order, revision, slot, part: choice.part.id }).then((answer) => {
      if (!wanted) return;
      setClash(answer);
      setRefusal(undefined);
      pointed.set({ slot, touches: touchesOf(choice, slot, answer) });
    }, (error: unknown) => {
      if (!(error instanceof Refusal)) throw error;
      if (wanted) setRefusal(error);
    });
    return () => { wanted = false; };
  }, [asked, tools.revision]);
  return { clash, refusal };
}

/**
 * The part that the reader holds, under the list: all that its row had no room for, and what can
 * be done with it. It always keeps the same room, so that walking through the list moves nothing.
 */
export function PartInHand(props: InHandProps) {
  const { choice, slot, tools, asked, onAsk, onTake } = props;
  const { part, status, chosen, note } = choice;
  const closed = mayNotBeChosen(choice);
  const { clash, refusal } = useClash(props);
  const choose = () => onTake({ [slot]: part.id });
  return (
    <section class="in-hand" aria-label={t.hand(part.name)}>
      <p class="in-hand-line">
        <Status word={status}>{chosen ? say.order.chosen : status}</Status>{' '}
        <b>{part.name}</b> <Own choice={choice} />
      </p>
      {note && !chosen && !(closed && asked) && <p class={closed ? 'note stop' : 'note'}>{note}</p>}
      {!choice.proven && <p>{status === 'not proven' ? t.bareNotProven : t.notProvenWhy}</p>}
      <p class="in-hand-deeds">
        {closed && !asked && (
          <button type="button" class="plain" onClick={() => onAsk(part.id)}>
            {say.order.whyNot}
          </button>
        )}
        {!closed && !chosen && !tools.signed && (
          <button type="button" class="plain" disabled={tools.busy} onClick={choose}>
            {tools.busy ? say.order.choosing : t.choose}
          </button>
        )}
        <a href={partPath(part.id)}>{t.page}</a>
      </p>
      {kSmall.matches && <BikeInSight view={tools.view} pointed={tools.pointed} open={slot} />}
      {closed && asked && (
        <WhyNot clash={clash} refusal={refusal} signed={tools.signed} busy={tools.busy}
          onTake={(choices) => onTake({ ...choices, [slot]: part.id })} />
      )}
    </section>
  );
}
