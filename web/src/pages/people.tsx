import { useState } from 'preact/hooks';
import { ask, type MeView, type PeopleView, type PersonSignIn } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { isOwner, useMe } from '../frame/me';
import { Body } from '../marks/waiting';
import { people } from '../words/people';
import { Complaint, useDeed } from './deed';
import { TextField } from './field';
import { SecretForm, type What } from './secret_form';

const t = people.page;

interface Doing { id: string; what: What }

interface DeedsProps { person: { id: string; name: string }; mayTakeAway: boolean; onWhat: (what: What) => void }

function Deeds({ person, mayTakeAway, onWhat }: DeedsProps) {
  const deed = (what: What, words: string) => (
    <button type="button" class="plain" aria-label={t.of(words, person.name)} onClick={() => onWhat(what)}>{words}</button>
  );
  return (
    <span class="person-deeds">
      {deed('password', t.setPassword)} {deed('pin', t.setPin)} {mayTakeAway && deed('take away', t.takeAway)}
    </span>
  );
}

interface RowProps { person: PersonSignIn; doing: Doing | undefined; onDoing: (doing: Doing | undefined) => void; onDone: (words: string) => void }

function Row({ person, doing, onDoing, onDone }: RowProps) {
  const isDoing = doing?.id === person.id;
  return (
    <>
      <tr>
        <th scope="row">{person.name}</th>
        <td data-of={t.signsIn}>{person.id}</td>
        <td data-of={t.may}>{person.roles.join(', ')}</td>
        <td data-of={t.password}>{person.has_password ? t.isSet : t.notSet}</td>
        <td data-of={t.pin}>{person.has_pin ? t.isSet : t.notSet}</td>
        <td><Deeds person={person} mayTakeAway={person.has_password || person.has_pin} onWhat={(what) => onDoing({ id: person.id, what })} /></td>
      </tr>
      {isDoing && (
        <tr class="person-form"><td colSpan={6}>
          <SecretForm key={doing.what} person={person} what={doing.what} onDone={onDone} onLeave={() => onDoing(undefined)} />
        </td></tr>
      )}
    </>
  );
}

function Everybody({ view, again }: { view: PeopleView; again: () => void }) {
  const [doing, setDoing] = useState<Doing | undefined>(undefined);
  const [told, setTold] = useState('');
  const onDone = (words: string) => {
    setDoing(undefined);
    setTold(words);
    again();
  };
  const onDoing = (next: Doing | undefined) => {
    setTold('');
    setDoing(next);
  };
  return (
    <>
      <p role="status" class="told-line">{told}</p>
      <table class="book people-book">
        <thead><tr>
          <th scope="col">{t.person}</th><th scope="col">{t.signsIn}</th><th scope="col">{t.may}</th>
          <th scope="col">{t.password}</th><th scope="col">{t.pin}</th><th scope="col"><span class="unseen">{t.change}</span></th>
        </tr></thead>
        <tbody>{view.people.map((person) => <Row key={person.id} person={person} doing={doing} onDoing={onDoing} onDone={onDone} />)}</tbody>
      </table>
      <section>
        <h2>{t.roles}</h2>
        <dl class="role-list">
          {['owner', 'desk', 'bench'].map((role) => <div key={role}><dt>{role}</dt><dd>{people.roleMay(role)}</dd></div>)}
        </dl>
      </section>
    </>
  );
}

function PairForm() {
  const { become } = useMe();
  const [name, setName] = useState('');
  const { busy, complaint, run } = useDeed<MeView>((next) => become(next, '/bench/sign-in'));
  const submit = (event: Event) => {
    event.preventDefault();
    void run(() => ask.pairStation(name));
  };
  return (
    <form class="pair-form" onSubmit={submit} noValidate>
      <h3>{t.pairTitle}</h3>
      <p class="measure quiet">{t.pairLead}</p>
      <TextField label={t.pairName} hint={t.pairExample} value={name} onValue={setName} />
      <Complaint words={complaint} />
      <p class="deeds"><button type="submit" class="do" disabled={busy}>{t.pair}</button></p>
    </form>
  );
}

function Stations({ view, again }: { view: PeopleView; again: () => void }) {
  const { complaint, run } = useDeed<PeopleView>(again);
  const nameOf = (id: string) => view.people.find((person) => person.id === id)?.name ?? id;
  return (
    <section>
      <h2>{t.stations}</h2>
      <p class="measure">{t.stationsLead}</p>
      {view.stations.length === 0 && <p class="quiet">{t.noStations}</p>}
      <ul class="plain-list stations">
        {view.stations.map((station) => (
          <li key={station.number}>
            <b>{station.name}</b> <span class="quiet">{t.pairedBy(nameOf(station.paired_by))}</span>{' '}
            <button type="button" class="plain" aria-label={t.of(t.letGo, station.name)} onClick={() => run(() => ask.leaveStation(station.number))}>{t.letGo}</button>
          </li>
        ))}
      </ul>
      <Complaint words={complaint} />
      <PairForm />
    </section>
  );
}

function Mine() {
  const { view } = useMe();
  const [what, setWhat] = useState<What | undefined>(undefined);
  const [told, setTold] = useState('');
  const me = { id: view.person, name: view.name };
  if (view.at === 'bench') return <p class="lead">{t.atBench}</p>;
  const done = (words: string) => {
    setWhat(undefined);
    setTold(words);
  };
  return (
    <>
      <p role="status" class="told-line">{told}</p>
      <Deeds person={me} mayTakeAway={false} onWhat={(next) => { setTold(''); setWhat(next); }} />
      {what && <SecretForm key={what} person={me} what={what} onDone={done} onLeave={() => setWhat(undefined)} />}
    </>
  );
}

function ForTheOwner() {
  const answered = useAnswer('people', ask.people, (changed) => changed.order === '');
  return (
    <Body answered={answered}>
      {(view) => <><Everybody view={view} again={answered.again} /><Stations view={view} again={answered.again} /></>}
    </Body>
  );
}

/** For the owner: who may what, and with what everybody signs in. For others: what is their own. */
export function PeoplePage() {
  const { view } = useMe();
  if (view.open) {
    return <div class="page"><h1>{t.title}</h1><p class="lead">{people.line.open} <a href="/people/first">{people.line.make}</a></p></div>;
  }
  return (
    <div class="page">
      <h1>{isOwner(view) ? t.title : t.mineTitle}</h1>
      {isOwner(view) ? <><p class="lead">{t.lead}</p><ForTheOwner /></> : <Mine />}
    </div>
  );
}
