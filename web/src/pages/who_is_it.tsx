import { useState } from 'preact/hooks';
import type { BenchPerson } from '../ask/ask';
import { useMe } from '../frame/me';
import { choosePerson } from '../frame/person';
import { bench } from '../words/bench';

const t = bench.who;

/** Who is at this tablet; asked for large while nobody said. */
export function WhoIsIt({ people, person }: { people: BenchPerson[]; person: BenchPerson | undefined }) {
  const [asking, setAsking] = useState(false);
  const { view } = useMe();
  if (view.person) return null;  // who is signed in stands under the header, with the way to change that
  if (person && !asking) {
    return <p class="who-is-it"><b>{t.at(person.name)}</b> <button type="button" class="plain" onClick={() => setAsking(true)}>{t.change}</button></p>;
  }
  const choose = (id: string) => {
    choosePerson(id);
    setAsking(false);
  };
  return (
    <section class="who-is-it asked" aria-labelledby="who-is-it">
      <h2 id="who-is-it">{t.label}</h2>
      <p>{t.ask} {t.scan}</p>
      <ul class="big-choices">
        {people.map((one) => (
          <li key={one.id}><button type="button" aria-pressed={one.id === person?.id} onClick={() => choose(one.id)}>{one.name}<span class="quiet"> {one.skills.join(', ')}</span></button></li>
        ))}
      </ul>
    </section>
  );
}
