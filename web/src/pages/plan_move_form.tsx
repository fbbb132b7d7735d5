import { useState } from 'preact/hooks';
import type { PlanView } from '../ask/ask';
import { dayOf, localOf, minuteOf } from '../drawing/plan_axis';
import type { Place } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';
import { clockOf } from '../words/day';
import { planWords } from '../words/plan';
import { ChoiceField, DayField, TextField } from './field';

const t = planWords.move;

/** "13:30", "9.05" or "930" as "13:30", "09:05", "09:30"; undefined when it is no time of day. */
export function clockTyped(text: string): string | undefined {
  const found = /^(\d{1,2})[:.]?(\d{2})$/.exec(text.trim());
  if (!found) return undefined;
  const [hour, minute] = [Number(found[1]), Number(found[2])];
  if (hour > 23 || minute > 59) return undefined;
  return `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
}

interface FormProps {
  plan: PlanView;
  work: Work;
  place: Place;  // where it is now
  onPlace: (place: Place) => void;
  onLeave: () => void;
}

/** The same move with fields: for a telephone, and for whoever would rather type. */
export function MoveForm({ plan, work, place, onPlace, onLeave }: FormProps) {
  const [person, setPerson] = useState(place.person);
  const [stand, setStand] = useState(String(place.stand));
  const [day, setDay] = useState(dayOf(place.start));
  const [time, setTime] = useState(clockOf(localOf(place.start)));
  const [wrong, setWrong] = useState<{ day?: string; time?: string }>({});
  const stands = plan.areas.find((area) => area.id === work.area)?.stands ?? 0;
  const numbers = Array.from({ length: stands }, (_, i) => String(i + 1));

  const see = (event: Event) => {
    event.preventDefault();
    const clock = clockTyped(time);
    if (!day) return setWrong({ day: t.noDay });
    if (!clock) return setWrong({ time: t.noTime(time.trim()) });
    setWrong({});
    onPlace({ person, start: minuteOf(`${day}T${clock}`), stand: Number(stand) });
  };
  return (
    <form class="move-form" onSubmit={see} noValidate>
      <div class="move-fields">
        <ChoiceField label={t.person} value={person} onValue={setPerson} options={plan.people.map((p) => [p.id, p.name])} />
        <ChoiceField label={`${t.stand}, ${work.area}`} value={stand} onValue={setStand}
          options={[['0', t.anyStand], ...numbers.map((n): [string, string] => [n, n])]} />
        <DayField label={t.day} value={day} onValue={setDay} complaint={wrong.day} />
        <TextField label={t.time} hint={t.clock} value={time} onValue={setTime} complaint={wrong.time} />
      </div>
      <p class="deeds">
        <button type="submit" class="do">{t.see}</button>
        <button type="button" class="plain" onClick={onLeave}>{t.leave}</button>
      </p>
    </form>
  );
}
