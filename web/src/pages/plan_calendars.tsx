import type { PlanView } from '../ask/ask';
import { calendarPath } from '../frame/route';
import { planWords } from '../words/plan';

const t = planWords.calendars;

/** Everybody's part of the plan for their own calendar. */
export function PlanCalendars({ plan }: { plan: PlanView }) {
  return (
    <details class="plan-more">
      <summary>{t.title}</summary>
      <p class="measure">{t.lead}</p>
      <ul class="plain-list calendars">
        {plan.people.map((person) => (
          <li key={person.id}>
            <a href={calendarPath(person.id)}>{t.file} {person.name}</a> <code>{location.origin + calendarPath(person.id)}</code>
          </li>
        ))}
      </ul>
    </details>
  );
}
