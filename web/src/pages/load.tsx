import { ask, type FullestView, type LoadView, type WeekLoadView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { orderPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { loadWords as t } from '../words/load';
import { filled, type Filled } from './load_cell';

/** Hours to scale: the frame is what is there, the block what is planned. */
function Cell({ cell, there, planned, absent }: { cell: Filled; there: number; planned: number; absent: string }) {
  if (there <= 0 && planned <= 0) return <span class="quiet">{absent}</span>;
  return (
    <span class={cell.full ? 'load-cell full' : 'load-cell'}>
      <svg width="100%" height="14" aria-hidden="true">
        <rect class="there" x="0.5" y="0.5" width={`${cell.there}%`} height="13" />
        <rect class="planned" x="0.5" y="0.5" width={`${cell.planned}%`} height="13" />
      </svg>
      <span class="num">{t.hours(planned, there)}{cell.full && <b> {t.full}</b>}</span>
    </span>
  );
}

function Weeks({ view }: { view: LoadView }) {
  return (
    <>{view.weeks.map((week) => <th key={week.first} scope="col">{t.week(week.first, week.last)}</th>)}</>
  );
}

function Group({ group }: { group: FullestView }) {
  if (group.skills.length === 0) return <span class="quiet">{t.noneDue}</span>;
  const words = t.group(group.in_100);
  const why = t.groupWhy(group.people, group.skills, group.work, group.hours);
  return (
    <span class="load-group">
      {group.in_100 === null || group.in_100 > 100
        ? <span class="marked stop"><Mark shape="flag" tone="stop" />{words}: {t.over}</span> : <b>{words}</b>}
      <span class="small quiet">{why}</span>
    </span>
  );
}

function Due({ week }: { week: WeekLoadView }) {
  if (week.due.length === 0) return <span class="quiet">{t.noneDue}</span>;
  return <span>{week.due.map((order) => <a key={order} href={orderPath(order)}>{order}</a>)}</span>;
}

function BySkill({ view }: { view: LoadView }) {
  const most = Math.max(1, ...view.weeks.flatMap((w) => w.skills.map((s) => s.there)));
  const group = (name: string, of: (week: WeekLoadView) => preact.JSX.Element) => (
    <tr>
      <th scope="row">{name}</th>
      {view.weeks.map((week) => <td key={week.first} data-of={t.week(week.first, week.last)}>{of(week)}</td>)}
    </tr>
  );
  return (
    <section aria-labelledby="by-skill">
      <h2 id="by-skill">{t.bySkill}</h2>
      <table class="book fold load-table">
        <thead><tr><th scope="col">{t.skill}</th><Weeks view={view} /></tr></thead>
        <tbody>
          {view.weeks[0]?.skills.map((skill, row) => (
            <tr key={skill.skill}>
              <th scope="row">{skill.name}<span class="small quiet">{skill.people.join(', ')}</span></th>
              {view.weeks.map((week) => {
                const at = week.skills[row];
                return at && (
                  <td key={week.first} data-of={t.week(week.first, week.last)}>
                    <Cell cell={filled(at.planned, at.there, most)} there={at.there} planned={at.planned} absent={t.nobody} />
                  </td>
                );
              })}
            </tr>
          ))}
          {group(t.fullest, (week) => <Group group={week.planned} />)}
          {group(t.promisedBy, (week) => <Group group={week.promised} />)}
          {group(t.due, (week) => <Due week={week} />)}
        </tbody>
      </table>
      <p class="small">{t.bySkillHow}</p>
      <p class="small">{t.promisedHow}</p>
    </section>
  );
}

function ByPerson({ view }: { view: LoadView }) {
  const most = Math.max(1, ...view.weeks.flatMap((w) => w.people.map((p) => p.there)));
  return (
    <section aria-labelledby="by-person">
      <h2 id="by-person">{t.byPerson}</h2>
      <table class="book fold load-table">
        <thead><tr><th scope="col">{t.person}</th><Weeks view={view} /></tr></thead>
        <tbody>
          {view.weeks[0]?.people.map((person, row) => (
            <tr key={person.id}>
              <th scope="row">{person.name}</th>
              {view.weeks.map((week) => {
                const at = week.people[row];
                return at && (
                  <td key={week.first} data-of={t.week(week.first, week.last)}>
                    <Cell cell={filled(at.planned, at.there, most)} there={at.there} planned={at.planned} absent={t.away} />
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

export function LoadPage() {
  const answered = useAnswer('load', ask.load);
  return (
    <div class="page load">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/plan">{t.back}</a></span></div>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="promise-sentence">{view.sentence}</p>
            {view.weeks[0] && view.weeks[0].skills.length > 0 && <BySkill view={view} />}
            {view.weeks[0] && <ByPerson view={view} />}
          </>
        )}
      </Body>
    </div>
  );
}
