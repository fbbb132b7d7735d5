import { useState } from 'preact/hooks';
import { ask, type PersonSignIn } from '../ask/ask';
import { people } from '../words/people';
import { Complaint, useDeed } from './deed';
import { SecretField } from './secret_field';

const t = people.page;

export type What = 'password' | 'pin' | 'take away';

interface SecretFormProps {
  person: { id: string; name: string };
  what: What;
  onDone: (words: string) => void;
  onLeave: () => void;
}

/** One deed on what a person signs in with, confirmed by the password of whoever does it. */
export function SecretForm({ person, what, onDone, onLeave }: SecretFormProps) {
  const [secret, setSecret] = useState('');
  const [again, setAgain] = useState('');
  const [your_password, setYours] = useState('');
  const [differ, setDiffer] = useState(false);
  const { busy, complaint, run } = useDeed<PersonSignIn>(() =>
    onDone(what === 'take away' ? t.taken(person.name) : t.saved(person.name)));
  const deed = () => {
    if (what === 'password') return ask.setPassword(person.id, { password: secret, your_password });
    if (what === 'pin') return ask.setPin(person.id, { pin: secret, your_password });
    return ask.takeSignInAway(person.id, your_password);
  };
  const submit = (event: Event) => {
    event.preventDefault();
    setDiffer(secret !== again);
    if (secret === again) void run(deed);
  };
  const isPin = what === 'pin';
  return (
    <form class="secret-form" onSubmit={submit} noValidate>
      {what === 'take away' ? <p class="measure">{t.takeAwaySure(person.name)}</p> : (
        <div class="pair">
          <SecretField label={isPin ? t.newPin : t.newPassword} value={secret} onValue={setSecret} use={isPin ? 'off' : 'new-password'} digits={isPin} />
          <SecretField label={t.again} value={again} onValue={setAgain} use={isPin ? 'off' : 'new-password'} digits={isPin} complaint={differ ? t.differ : undefined} />
        </div>
      )}
      <SecretField label={t.yours} hint={t.yoursHint} value={your_password} onValue={setYours} use="current-password" />
      <Complaint words={complaint} />
      <p class="deeds">
        <button type="submit" class="do" disabled={busy}>{what === 'take away' ? t.takeAway : t.save}</button>{' '}
        <button type="button" class="plain" onClick={onLeave}>{t.leave}</button>
      </p>
    </form>
  );
}
