import { useState } from 'preact/hooks';
import { ask, type CareView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { careWords as t } from '../words/care';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { TextField } from './field';

/** Its rider was told that the bike should come: one line, and it is off the list of today. */
export function Remind({ order, onTold }: { order: string; onTold: (view: CareView) => void }) {
  const { people } = useShop();
  const [said, setSaid] = useState('');
  const [key, setKey] = useState(() => crypto.randomUUID());
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<CareView>((view) => { setSaid(''); setKey(crypto.randomUUID()); onTold(view); });
  const submit = (event: Event) => {
    event.preventDefault();
    void run(() => ask.remindRider(order, { who: by.who, key, note: said.trim() }));
  };
  return (
    <details class="operation-group remind"><summary>{t.tell}</summary>
      <form class="care-form" onSubmit={submit} aria-label={t.tellOf(order)} noValidate>
        <TextField label={t.said} value={said} onValue={setSaid} />
        <ByWhomField by={by} label={t.who} people={people} />
        <div class="whole"><Complaint words={complaint} /></div>
        <p class="whole"><button type="submit" class="do" disabled={busy || by.who === ''}>{t.tellDo}</button></p>
      </form>
    </details>
  );
}
