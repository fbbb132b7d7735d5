import type { PlanView } from '../ask/ask';
import { dayOf, localOf, minuteOf } from '../drawing/plan_axis';
import type { Work } from '../drawing/plan_work';
import { Mark } from '../marks/mark';
import { clockOf, dayInWords } from '../words/day';
import { planWords } from '../words/plan';
import { nameIn } from './plan_proposal';

const t = planWords.byDay;

/** Days of the plan on which anybody works. */
export const daysOf = (plan: PlanView) =>
  [...new Set(plan.people.flatMap((p) => p.windows.map((w) => w.from.slice(0, 10))))].sort();

/** Work that somebody is at on a day, in the order of the day. */
export const workOn = (works: Work[], day: string) =>
  works.filter((work) => work.pieces.some((piece) => dayOf(piece.from) === day));

interface ByDayProps {
  plan: PlanView;
  works: Work[];
  day: string;
  chosen: string;
  moved: Set<string>;
  onDay: (day: string) => void;
  onChoose: (work: Work) => void;
}

function Entry({ work, lendsTo, day, chosen, moved, onChoose }: {
  work: Work; lendsTo: string; day: string; chosen: boolean; moved: boolean; onChoose: (work: Work) => void;
}) {
  const pieces = work.pieces.filter((piece) => dayOf(piece.from) === day);
  const [first, last] = [pieces[0], pieces.at(-1)];
  if (!first || !last) return null;
  const w = planWords;
  const hands = lendsTo ? w.lendsTo(lendsTo) : work.others.length > 0 && w.with(work.others);
  const marks = [hands, work.frozen && w.frozen, work.pinned && w.pinned, last.to < work.end && t.goesOn].filter(Boolean);
  return (
    <li class={`${chosen ? 'chosen' : ''} ${moved ? 'moved' : ''}`}>
      <button type="button" aria-pressed={chosen} onClick={() => onChoose(work)}>
        <span class="num">{t.hours(localOf(first.from), localOf(last.to))}</span>
        <span><b>{work.order}</b> {work.rider}</span>
        <span>{work.operation} {work.name}, <span class="quiet">{w.stand(work.area, work.stand)}</span></span>
        {work.late && <span class="marked stop"><Mark shape="flag" tone="stop" />{w.late}</span>}
        {work.cannot && <span class="marked care"><Mark shape="gap" tone="care" />{w.key.cannot}</span>}
        {marks.length > 0 && <span class="quiet">{marks.join(', ')}</span>}
      </button>
    </li>
  );
}

function PersonDay({ person, props }: { person: PlanView['people'][number]; props: ByDayProps }) {
  const { works, day, chosen, moved, onChoose } = props;
  const here = person.windows.filter((window) => window.from.startsWith(day));
  const on = workOn(works, day).filter((work) => work.person === person.id || work.lending.includes(person.id));
  const name = nameIn(props.plan);
  const [first, last] = [here[0], here.at(-1)];
  return (
    <section>
      <h3>{person.name} <span class="quiet">{first && last ? `${clockOf(first.from)} to ${clockOf(last.to)}` : t.away}</span></h3>
      {on.length === 0 ? first && <p class="quiet">{t.nobody}</p> : (
        <ul class="day-work">
          {on.map((work) => (
            <Entry key={work.key} work={work} lendsTo={work.person === person.id ? '' : name(work.person)} day={day} chosen={work.key === chosen} moved={moved.has(work.key)} onChoose={onChoose} />
          ))}
        </ul>
      )}
    </section>
  );
}

/** One day of everybody's, for a telephone and for whoever reads rather than looks. */
export function PlanByDay(props: ByDayProps) {
  const { plan, day, onDay } = props;
  const days = daysOf(plan);
  const at = days.indexOf(day);
  const step = (to: string | undefined, words: string) => (
    <button type="button" class="plain" disabled={to === undefined} onClick={() => to && onDay(to)}>{words}</button>
  );
  return (
    <div class="by-day">
      <div class="day-walk">
        {step(days[at - 1], t.earlier)}
        <h2>{dayInWords(day)}</h2>
        {step(days[at + 1], t.later)}
      </div>
      <div class="people-of-day">
        {plan.people.map((person) => <PersonDay key={person.id} person={person} props={props} />)}
      </div>
    </div>
  );
}

export const firstDay = (plan: PlanView) => daysOf(plan).find((day) => minuteOf(day) + 1440 > minuteOf(plan.now)) ?? '';
