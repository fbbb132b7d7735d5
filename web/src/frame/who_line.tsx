import { leave } from '../ask/leaving';
import { people } from '../words/people';
import { isOwner, useMe } from './me';
import { signInPath } from './route';

const t = people.line;

/** Under the header of every page: who is signed in here, or that nobody has to yet. */
export function WhoLine() {
  const { view, become } = useMe();
  if (view.open) return <section class="who-line" aria-label={t.label}><span>{t.open} <a href="/people/first">{t.make}</a></span></section>;
  const atStation = view.station !== '';
  const out = async () => become(await leave(view), signInPath(atStation, '/'));
  return (
    <section class={view.at === 'bench' ? 'who-line at-station' : 'who-line'} aria-label={t.label}>
      <span>{view.at === 'bench' ? t.atBench(view.name, view.station) : t.atDesk(view.name)}</span>
      {view.at === 'desk' && <a href="/people">{isOwner(view) ? t.people : t.mine}</a>}
      <button type="button" class="plain" onClick={out}>{view.at === 'bench' ? t.change : t.out}</button>
    </section>
  );
}
