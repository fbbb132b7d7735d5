import { ask, type MinutesLine } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { Told } from '../marks/told';
import { Body } from '../marks/waiting';
import { minutesWords as t } from '../words/minutes';

function Row({ line }: { line: MinutesLine }) {
  return (
    <tr>
      <th scope="row">{line.name} <span class="small">{line.operation}</span></th>
      <td data-of={t.where}>{line.area}</td>
      <td class="num" data-of={t.stated}>{t.range(line.stated_low, line.stated_high)}</td>
      <td class="num" data-of={t.learned}>{line.times > 0 ? t.range(line.low, line.high) : '–'}</td>
      <td class="num" data-of={t.usual}>{t.usually(line.median)}</td>
      <td class="num" data-of={t.times}>
        {line.astray > 0 ? <Told how={t.astray(line.astray)}>{t.taken(line.times)}</Told> : t.taken(line.times)}
      </td>
    </tr>
  );
}

export function MinutesPage() {
  const answered = useAnswer('minutes', ask.minutes);
  return (
    <div class="page minutes">
      <h1>{t.title}</h1>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="promise-sentence">{view.sentence}</p>
            <table class="book fold">
              <thead>
                <tr>
                  <th scope="col">{t.operation}</th><th scope="col">{t.where}</th><th scope="col" class="num">{t.stated}</th>
                  <th scope="col" class="num">{t.learned}</th><th scope="col" class="num">{t.usual}</th><th scope="col" class="num">{t.times}</th>
                </tr>
              </thead>
              <tbody>{view.lines.map((line) => <Row key={line.operation} line={line} />)}</tbody>
            </table>
            <p class="small">{t.how}</p>
          </>
        )}
      </Body>
    </div>
  );
}
