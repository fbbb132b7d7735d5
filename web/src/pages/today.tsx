import { ask, type TodayLine } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { Body } from '../marks/waiting';
import { dayInWords } from '../words/day';
import { say } from '../words/say';

export interface TodayGroup {
  kind: string;
  lines: TodayLine[];
}

/** Lines of one kind together; kinds and lines stay in the order in which the server gave them. */
export function groupedByKind(lines: TodayLine[]): TodayGroup[] {
  const groups: TodayGroup[] = [];
  for (const line of lines) {
    const group = groups.find((g) => g.kind === line.kind);
    if (group) group.lines.push(line);
    else groups.push({ kind: line.kind, lines: [line] });
  }
  return groups;
}

function Group({ group }: { group: TodayGroup }) {
  const urgent = group.kind === 'at risk';
  return (
    <section class={urgent ? 'diary urgent' : 'diary'}>
      <h2>{group.kind}</h2>
      <ul>
        {group.lines.map((line) => (
          <li key={line.sentence}>
            <p>{line.sentence}</p>
            {line.link ? <a href={line.link}>{line.action}</a> : <span>{line.action}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}

export function TodayPage() {
  const shop = useShop();
  const answered = useAnswer('today', ask.today);
  return (
    <div class="page today">
      <h1>{dayInWords(answered.value?.day ?? shop.today)}</h1>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="lead">
              {view.lines.length === 0 ? say.today.nothing : say.today.lines(view.lines.length)}
            </p>
            {groupedByKind(view.lines).map((group) => <Group key={group.kind} group={group} />)}
          </>
        )}
      </Body>
    </div>
  );
}
