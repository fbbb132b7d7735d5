import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, type MeView, type StationPerson } from '../ask/ask';
import { benchSignIn } from '../ask/leaving';
import { useAnswer } from '../ask/use_answer';
import { useMe } from '../frame/me';
import { signInPath } from '../frame/route';
import { Body } from '../marks/waiting';
import { people } from '../words/people';
import { personOnLabel, pinWith } from './bench_typing';
import { Complaint, useDeed } from './deed';

const t = people.bench;
const kKeys = ['7', '8', '9', '4', '5', '6', '1', '2', '3'];

function Names({ names, onName }: { names: StationPerson[]; onName: (person: StationPerson) => void }) {
  if (names.length === 0) return <p class="lead">{t.nobody}</p>;
  return (
    <>
      <p class="lead">{t.lead}</p>
      <ul class="bench-names">
        {names.map((person) => (
          <li key={person.id}><button type="button" onClick={() => onName(person)}>{person.name}</button></li>
        ))}
      </ul>
    </>
  );
}

function Pad({ pin, busy, onPin, onDone }: { pin: string; busy: boolean; onPin: (pin: string) => void; onDone: () => void }) {
  const key = (digit: string) => (
    <button key={digit} type="button" onClick={() => onPin(pinWith(pin, digit))}>{digit}</button>
  );
  return (
    <div class="pin-pad">
      <p class="pin-shown" role="status" aria-label={t.shown(pin.length)}>{'●'.repeat(pin.length) || '\u00a0'}</p>
      <div class="pin-keys" role="group" aria-label={t.pad}>
        {kKeys.map(key)}
        <button type="button" class="erase" onClick={() => onPin(pin.slice(0, -1))}>{t.erase}</button>
        {key('0')}
        <button type="button" class="go" disabled={busy || pin.length < 4} onClick={onDone}>{t.go}</button>
      </div>
    </div>
  );
}

/** Digits of a keyboard go to the pad; whatever else is typed up to Enter may be a person's label. */
function useTyping(take: (line: string) => void, onPin: (change: (pin: string) => string) => void) {
  const line = useRef('');
  const taken = useRef(take);
  taken.current = take;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.key === 'Enter') {
        if ((event.target as Element).closest('button, a') && line.current === '') return;
        event.preventDefault();
        taken.current(line.current);
        line.current = '';
      } else if (event.key === 'Backspace') {
        line.current = line.current.slice(0, -1);
        onPin((pin) => pin.slice(0, -1));
      } else if (event.key.length === 1 && event.key !== ' ') {
        line.current = (line.current + event.key).slice(-80);
        onPin((pin) => pinWith(pin, event.key));
      }
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, []);
  return () => { line.current = ''; };
}

function AtStation({ names, to }: { names: StationPerson[]; to: string }) {
  const { become } = useMe();
  const [person, setPerson] = useState<StationPerson | undefined>(undefined);
  const [pin, setPin] = useState('');
  const { busy, complaint, run } = useDeed<MeView>((next) => become(next, to || '/bench'));
  const submit = async (of: StationPerson, digits: string) => {
    await run(() => benchSignIn(of.id, digits));
    setPin('');
  };
  const forget = useTyping((line) => {
    const labelled = personOnLabel(line, names);
    if (labelled) choose(labelled);
    else if (person && pin.length >= 4) void submit(person, pin);
  }, (change) => setPin(change));
  const choose = (next: StationPerson | undefined) => {
    setPerson(next);
    setPin('');
    forget();
  };
  return (
    <>
      <h1>{person ? t.titleOf(person.name) : t.title}</h1>
      {person ? (
        <>
          <Pad pin={pin} busy={busy} onPin={setPin} onDone={() => submit(person, pin)} />
          <Complaint words={complaint} />
          <button type="button" class="plain big" onClick={() => choose(undefined)}>{t.other}</button>
        </>
      ) : <Names names={names} onName={choose} />}
    </>
  );
}

/** At a station: choose your name or scan your label, then the PIN. */
export function BenchSignInPage({ to }: { to: string }) {
  const { view } = useMe();
  const names = useAnswer('bench people', ask.benchPeople);
  if (view.station === '') {
    return <div class="page signing-in"><h1>{t.title}</h1><p class="lead">{t.noStation} <a href={signInPath(false, to || '/')}>{t.byPassword}</a></p></div>;
  }
  return (
    <div class="page bench-signing-in">
      {names.value === undefined && names.refusal && <h1>{t.title}</h1>}
      <Body answered={names}>{(list) => <AtStation names={list} to={to} />}</Body>
      <p class="by-password"><a href={signInPath(false, to || '/')}>{t.byPassword}</a></p>
    </div>
  );
}
