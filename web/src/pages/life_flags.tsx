import { useState } from 'preact/hooks';
import { ask, type FlagView, type LifeView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { lifeWords as t } from '../words/life';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { ChoiceField, DayField, TextField } from './field';

interface FlagsProps {
  view: LifeView;
  onDone: (view: LifeView) => void;
}

interface SayingProps extends FlagsProps {
  flag?: string;  // to be cleared; none: one is set
}

/** Setting a flag, or clearing one, with who and why. */
function Saying({ view, flag, onDone }: SayingProps) {
  const { people } = useShop();
  const [which, setWhich] = useState(view.all_flags[0] ?? '');
  const [reason, setReason] = useState('');
  const [until, setUntil] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<LifeView>(onDone);
  const tell = (event: Event) => {
    event.preventDefault();
    void run(() => ask.setFlag(view.order, {
      flag: flag ?? which, set: flag === undefined, reason: reason.trim(), until: until || null, by: by.who, revision: view.revision,
    }));
  };
  return (
    <form class="life-move" onSubmit={tell} noValidate>
      {flag === undefined && (
        <ChoiceField label={t.whichFlag} value={which} onValue={setWhich}
          options={view.all_flags.map((word): [string, string] => [word, word])} />
      )}
      <TextField label={t.why} value={reason} onValue={setReason} />
      {flag === undefined && <DayField label={t.untilDay} value={until} onValue={setUntil} />}
      <ByWhomField by={by} label={t.flagBy} people={people} nobody={t.nobody} />
      <Complaint words={complaint} />
      <button type="submit" class="do" disabled={busy || by.who === '' || reason.trim() === ''}>{flag === undefined ? t.set : t.clearing(flag)}</button>
    </form>
  );
}

function Flag({ flag, view, onDone }: FlagsProps & { flag: FlagView }) {
  const origin = flag.day ? t.bySince(flag.who, flag.day) : t.imported;
  return (
    <li>
      <p>
        <Mark shape="flag" tone={flag.is_due ? 'care' : 'ink'} /> <b>{flag.flag}</b>{flag.reason && `: ${flag.reason}`}
        {flag.until && `, ${t.until(flag.until)}`}{flag.is_due && ` (${t.isDue})`} <span class="small">{origin}</span>
      </p>
      <details><summary>{t.clear}<span class="unseen"> {flag.flag}</span></summary><Saying key={view.revision} view={view} flag={flag.flag} onDone={onDone} /></details>
    </li>
  );
}

export function Flags({ view, onDone }: FlagsProps) {
  return (
    <details class="life-more">
      <summary>{t.flags} <span class="num">{view.flags.length}</span></summary>
      {view.flags.length === 0 && <p class="small">{t.noFlags}</p>}
      <ul>{view.flags.map((flag) => <Flag key={flag.flag} flag={flag} view={view} onDone={onDone} />)}</ul>
      <details><summary>{t.setFlag}</summary><Saying key={view.revision} view={view} onDone={onDone} /></details>
    </details>
  );
}
