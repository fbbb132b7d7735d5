import { useState } from 'preact/hooks';
import { ask, type ArrivalGroup, type ArrivalLine, type ArrivalsView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { Spread } from '../drawing/spread';
import { arrivalPath, orderPath, partPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Told } from '../marks/told';
import { Body } from '../marks/waiting';
import { inHundred } from '../words/amount';
import { dayInWords, dayShort } from '../words/day';
import { goods as t } from '../words/goods';
import { photos } from '../words/photos';
import { lineMatches } from './arrival_filter';

/** "2041 Ada Rider" leads to the order. */
export const ForWhom = ({ orders }: { orders: string[] }) => (
  orders.length === 0
    ? <span class="quiet">{t.forStock}</span>
    : <span class="used-in">{orders.map((order) => <a key={order} href={orderPath(order.split(' ')[0] ?? order)}>{order}</a>)}</span>
);

function SuppliersDay({ line }: { line: ArrivalLine }) {
  if (line.days_overdue > 0) {
    return (
      <span class="marked care"><Mark shape="triangle" tone="care" />
        <span>{line.confirmed ? `${t.was(dayShort(line.confirmed))}, ${t.late(line.days_overdue)}` : t.lateUsual(line.days_overdue)}</span>
      </span>
    );
  }
  return <span class={line.confirmed ? undefined : 'quiet'}>{line.confirmed ? dayShort(line.confirmed) : t.noWord}</span>;
}

function Odds({ line, today }: { line: ArrivalLine; today: string }) {
  if (!line.day_50 || !line.day_90) return <span class="quiet">{t.noDay}</span>;
  return (
    <span class="arrival-odds">
      <Spread today={today} half={line.day_50} nine={line.day_90} needed={line.needed_by} />
      <Told how={line.basis}>{t.oddsWords(dayShort(line.day_50), dayShort(line.day_90))}</Told>
      {line.where && <span class="small">{line.where}</span>}
    </span>
  );
}

function InTime({ line }: { line: ArrivalLine }) {
  if (line.in_time === null || !line.needed_by) return null;
  const doubtful = line.in_time < 0.9;
  return (
    <span class={doubtful ? 'marked care' : 'marked'}>
      {doubtful && <Mark shape="triangle" tone="care" />}
      <span>{inHundred(line.in_time)} <span class="small">{t.neededBy(dayShort(line.needed_by))}</span></span>
    </span>
  );
}

function Lines({ lines, today, label }: { lines: ArrivalLine[]; today: string; label: string }) {
  return (
    <table class="book fold arrivals-book" aria-label={label}>
      <thead>
        <tr>
          <th scope="col" class="num">{t.pieces}</th><th scope="col">{t.what}</th><th scope="col">{t.forWhom}</th>
          <th scope="col">{t.expected}</th><th scope="col">{t.odds}</th><th scope="col">{t.inTime}</th><th scope="col"><span class="unseen">{t.deed}</span></th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.id} data-line={line.id}>
            <td class="num pieces">{line.to_come + line.to_look_at}</td>
            <th scope="row" class="part-name">
              <a href={partPath(line.part)}>{line.name}</a>
              <span class="quiet">{line.id}, {line.supplier_name}</span>
            </th>
            <td data-of={t.forWhom}><ForWhom orders={line.orders} /></td>
            <td data-of={t.expected}><SuppliersDay line={line} /></td>
            <td data-of={t.odds}><Odds line={line} today={today} /></td>
            <td data-of={t.inTime}><InTime line={line} /></td>
            <td class="deed"><a class="do" href={arrivalPath(line.id)}>{t.deed}<span class="unseen"> {line.id}</span></a></td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const titleOf = (group: ArrivalGroup, today: string) => {
  if (group.kind === 'here') return t.here;
  if (group.kind === 'overdue') return t.overdue;
  if (!group.day) return t.noDay;
  return group.day === today ? `${t.today}, ${dayInWords(group.day)}` : dayInWords(group.day);
};

function Claims({ lines }: { lines: ArrivalLine[] }) {
  if (lines.length === 0) return null;
  const open = lines.flatMap((line) => line.claims.filter((claim) => !claim.settled).map((claim) => ({ line, claim })));
  return (
    <section>
      <h2>{t.claims}</h2>
      <ul class="plain-list clocks">
        {open.map(({ line, claim }) => (
          <li key={`${line.id} ${claim.number}`}>
            <a href={arrivalPath(line.id)}>{line.id}</a> {claim.pieces} × {line.name}, {line.supplier_name}: {claim.trouble}.{' '}
            <span class={claim.pressing ? 'marked stop' : 'marked'}>
              {claim.pressing && <Mark shape="flag" tone="stop" />}<Told how={claim.terms}>{claim.clock}</Told>
            </span>, <span class="quiet">{photos.counted(claim.photos.length)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Quarantine({ lines }: { lines: ArrivalLine[] }) {
  if (lines.length === 0) return null;
  return (
    <section>
      <h2>{t.quarantine}</h2>
      <p class="quiet">{t.quarantineLead}</p>
      <ul class="plain-list">
        {lines.map((line) => (
          <li key={line.id}><Mark shape="cross" tone="care" /> <a href={arrivalPath(line.id)}>{line.id}</a> {line.quarantined} × {line.name}, {line.supplier_name}</li>
        ))}
      </ul>
    </section>
  );
}

/** What was booked in is looked at again when the shelf does not agree. */
function Lately({ lines }: { lines: ArrivalLine[] }) {
  if (lines.length === 0) return null;
  return (
    <section class="lately">
      <h2>{t.lately}</h2>
      <ul class="plain-list">
        {lines.map((line) => (
          <li key={line.id}>
            <a href={arrivalPath(line.id)} aria-label={t.countAgain(line.id)}>{line.id}</a> {line.name}, {line.supplier_name}: {line.deliveries.map((one) => t.delivery(one.pieces, dayShort(one.day))).join(', ')}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Arrivals({ view }: { view: ArrivalsView }) {
  const [words, setWords] = useState('');
  const groups = view.groups
    .map((group) => ({ ...group, lines: group.lines.filter((line) => lineMatches(line, words)) }))
    .filter((group) => group.lines.length > 0);
  return (
    <>
      <p class="lead">{view.sentence}</p>
      <Claims lines={view.claims} />
      <Quarantine lines={view.quarantine} />
      <div class="narrow">
        <label class="wide">
          <span>{t.narrow}</span>
          <input type="text" value={words} autocomplete="off" onInput={(event) => setWords(event.currentTarget.value)} />
        </label>
      </div>
      <p class="unseen" role="status">{words && groups.length === 0 ? t.noMatch : ''}</p>
      {words && groups.length === 0 && <p class="count">{t.noMatch}</p>}
      {groups.map((group) => (
        <section key={group.kind + group.day} class={`arrival-day ${group.kind}`}>
          <h2>{titleOf(group, view.today)}</h2>
          <Lines lines={group.lines} today={view.today} label={titleOf(group, view.today)} />
        </section>
      ))}
      <Lately lines={view.lately} />
    </>
  );
}

export function ArrivalsPage() {
  const answered = useAnswer('arrivals', ask.arrivals);
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/parts/buy">{t.toBuy}</a> <a href="/parts">{t.catalogue}</a></span></div>
      <Body answered={answered}>{(view) => <Arrivals view={view} />}</Body>
    </div>
  );
}
