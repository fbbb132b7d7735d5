import { useState } from 'preact/hooks';
import { ask, type MeView, type PeopleView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useMe } from '../frame/me';
import { Body } from '../marks/waiting';
import { people } from '../words/people';
import { Complaint, useDeed } from './deed';
import { ChoiceField, TextField } from './field';
import { SecretField } from './secret_field';

const t = people.first;

function FirstOwner({ view }: { view: PeopleView }) {
  const { become } = useMe();
  const owners = view.people.filter((person) => person.roles.includes('owner'));
  const [person, setPerson] = useState(owners[0]?.id ?? '');
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [again, setAgain] = useState('');
  const [differ, setDiffer] = useState(false);
  const { busy, complaint, run } = useDeed<MeView>((next) => become(next, '/people'));
  const submit = (event: Event) => {
    event.preventDefault();
    setDiffer(password !== again);
    if (password === again) void run(() => ask.firstOwner(person ? { person, password } : { name, password }));
  };
  return (
    <form onSubmit={submit} noValidate>
      <ChoiceField label={t.who} value={person} onValue={setPerson}
        options={[...owners.map((owner): [string, string] => [owner.id, owner.name]), ['', t.somebodyNew]]} />
      {person === '' && <TextField label={t.name} value={name} onValue={setName} />}
      <SecretField label={t.password} hint={t.passwordHint} value={password} onValue={setPassword} use="new-password" />
      <SecretField label={t.again} value={again} onValue={setAgain} use="new-password" complaint={differ ? t.differ : undefined} />
      <Complaint words={complaint} />
      <p class="deeds"><button type="submit" class="do" disabled={busy}>{t.go}</button></p>
    </form>
  );
}

/** The first run of a shop: who owns it. */
export function PeopleFirstPage() {
  const { view } = useMe();
  const answered = useAnswer('people', ask.people);
  if (!view.open) return <div class="page signing-in"><h1>{t.title}</h1><p class="lead">{t.over}</p></div>;
  return (
    <div class="page signing-in">
      <h1>{t.title}</h1>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>{(people) => <FirstOwner view={people} />}</Body>
    </div>
  );
}
