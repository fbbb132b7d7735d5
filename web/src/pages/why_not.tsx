import { useEffect, useRef } from 'preact/hooks';
import type { ClashView, Refusal, RepairView } from '../ask/ask';
import { Refused, Waiting } from '../marks/waiting';
import { say } from '../words/say';
import { type Choices, choicesOf } from './choosing';
import { RepairList } from './repairs';

const t = say.order;

function Against({ clash }: { clash: ClashView }) {
  const { choices } = clash;
  return (
    <>
      <p>{choices.length > 0 ? t.clash : t.clashNone}</p>
      {choices.length > 0 && (
        <ul class="against">{choices.map((choice) => <li key={choice}>{choice}</li>)}</ul>
      )}
    </>
  );
}

interface WhyNotProps {
  clash: ClashView | undefined;  // undefined: it is being asked for
  refusal: Refusal | undefined;
  signed: boolean;
  busy: boolean;
  onTake: (choices: Choices) => void;
}

/** The rules that keep a part out, most telling first, and the changes that would let it in. */
export function WhyNot({ clash, refusal, signed, busy, onTake }: WhyNotProps) {
  const answer = useRef<HTMLDivElement>(null);
  useEffect(() => {
    answer.current?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  }, [clash]);
  if (refusal) return <Refused refusal={refusal} />;
  if (!clash) return <Waiting />;
  return (
    <div ref={answer} class="clash">
      <ul class="reasons">
        {clash.rules.map((rule) => (
          <li key={rule.rule + rule.sentence}>
            {rule.sentence}{' '}
            <span class="small source">
              {t.rule} {rule.rule}, {rule.severity}. {rule.source && `${t.source}: ${rule.source}.`}
            </span>
          </li>
        ))}
      </ul>
      <Against clash={clash} />
      {!signed && (
        <section class="opens">
          <h3>{say.editor.opens}</h3>
          {clash.opens.length === 0 && <p class="quiet">{say.editor.opensNone}</p>}
          <RepairList repairs={clash.opens} deed={say.editor.takeOpening} busy={busy}
            onTake={(repair: RepairView) => onTake(choicesOf(repair))} />
        </section>
      )}
    </div>
  );
}
