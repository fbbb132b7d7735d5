import { useState } from 'preact/hooks';
import type { MeView } from '../ask/ask';
import { signIn } from '../ask/leaving';
import { useMe } from '../frame/me';
import { signInPath } from '../frame/route';
import { people } from '../words/people';
import { Complaint, useDeed } from './deed';
import { Around } from './field';
import { SecretField } from './secret_field';

const t = people.signIn;
const kKey = 'rollwright.signs_in_as';

function lastName(): string {
  try {
    return localStorage.getItem(kKey) ?? '';
  } catch {
    return '';  // storage may be forbidden; then the name is typed
  }
}

function keepName(name: string) {
  try {
    localStorage.setItem(kKey, name);
  } catch {
    // It is only a convenience.
  }
}

/** At the desk: name and password. */
export function SignInPage({ to }: { to: string }) {
  const { view, become } = useMe();
  const [person, setPerson] = useState(lastName);
  const [password, setPassword] = useState('');
  const { busy, complaint, run } = useDeed<MeView>((next) => {
    keepName(next.person);
    become(next, to || '/');
  });
  const submit = async (event: Event) => {
    event.preventDefault();
    await run(() => signIn(person, password));
    setPassword('');
  };
  return (
    <div class="page signing-in">
      <h1>{t.title}</h1>
      <form onSubmit={submit}>
        <Around label={t.who} hint={t.whoHint}>
          {({ id, describedBy }) => (
            <input id={id} type="text" name="username" value={person} autocomplete="username" autocapitalize="none" spellcheck={false}
              aria-describedby={describedBy} required onInput={(event) => setPerson(event.currentTarget.value)} />
          )}
        </Around>
        <SecretField label={t.password} value={password} onValue={setPassword} use="current-password" />
        <Complaint words={complaint} />
        <p class="deeds"><button type="submit" class="do" disabled={busy}>{busy ? t.going : t.go}</button></p>
      </form>
      {view.station !== '' && <p class="by-password"><a href={signInPath(true, to || '/')}>{t.toBench}</a></p>}
      <p class="quiet measure">{t.forgotten}</p>
    </div>
  );
}
