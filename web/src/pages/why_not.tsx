import { useState } from 'preact/hooks';
import { ask, type ClashView, Refusal } from '../ask/ask';
import { Refused, Waiting } from '../marks/waiting';
import { say } from '../words/say';

const t = say.order;

function Clash({ clash }: { clash: ClashView }) {
  return (
    <div class="clash">
      <p>{clash.choices.length > 0 ? t.clash : t.clashNone}</p>
      {clash.choices.length > 0 && <ul class="against">{clash.choices.map((choice) => <li key={choice}>{choice}</li>)}</ul>}
      <ul>
        {clash.rules.map((rule) => (
          <li key={rule.rule + rule.sentence}>
            {rule.sentence} <span class="small source">{t.rule} {rule.rule}, {rule.severity}. {rule.source && `${t.source}: ${rule.source}.`}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The fewest choices and rules that keep this part out, asked for only when somebody wants to know. */
export function WhyNot({ order, slot, part }: { order: string; slot: string; part: string }) {
  const [open, setOpen] = useState(false);
  const [clash, setClash] = useState<ClashView | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const turn = () => {
    setOpen(!open);
    if (open) return;
    setRefusal(undefined);
    ask.whyNot(order, slot, part).then(setClash, (error: unknown) => {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    });
  };
  return (
    <>
      <button type="button" class="plain" aria-expanded={open} onClick={turn}>{t.whyNot}</button>
      {open && (refusal ? <Refused refusal={refusal} /> : clash ? <Clash clash={clash} /> : <Waiting />)}
    </>
  );
}
