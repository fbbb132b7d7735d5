import { ask, type HistoryView } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { benchPath, historyPdfPath, orderPath, ownersPackPath, partPath, sheetPath } from '../frame/route';
import { Outcome, State } from '../marks/mark';
import { Body } from '../marks/waiting';
import { bench } from '../words/bench';
import { momentHere } from '../words/day';
import { Photos } from './photos';

const t = bench.history;

function Record({ view }: { view: HistoryView }) {
  if (view.lines.length === 0) return <p>{t.none}</p>;
  return (
    <table class="book fold trail">
      <thead><tr><th scope="col" class="num">{t.number}</th><th scope="col">{t.when}</th><th scope="col">{t.who}</th><th scope="col">{t.what}</th><th scope="col">{t.outcome}</th></tr></thead>
      <tbody>
        {view.lines.map((line) => (
          <tr key={line.number}>
            <td class="num">{line.number}</td>
            <td class="when">{momentHere(line.at)}</td>
            <td>{line.who}</td>
            <td>{line.sentence}{line.deed === 'photo' && <Photos bare photos={[{ picture: line.serial, at: line.at, who: line.who, about: line.about, note: '' }]} />}{line.part && <> <a href={partPath(line.part)}>{line.part}</a></>}</td>
            <td>{line.outcome && <Outcome word={line.outcome}>{bench.checks.outcome[line.outcome]}</Outcome>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Journal({ view }: { view: HistoryView }) {
  if (view.journal.length === 0) return <p>{t.noJournal}</p>;
  return (
    <table class="book fold trail">
      <thead><tr><th scope="col" class="num">{t.entry}</th><th scope="col">{t.when}</th><th scope="col">{t.who}</th><th scope="col">{t.what}</th><th scope="col">{t.why}</th><th scope="col">{t.subject}</th></tr></thead>
      <tbody>
        {view.journal.map((entry) => (
          <tr key={entry.entry}>
            <td class="num">{entry.entry}</td><td class="when">{momentHere(entry.at)}</td><td>{entry.who}</td><td>{entry.what}</td><td>{entry.why}</td><td>{entry.subject}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Whole({ view }: { view: HistoryView }) {
  return (
    <>
      <p><State word={view.state} /> {view.build}</p>
      <h2>{t.record}</h2>
      <Record view={view} />
      <h2>{t.journal}</h2>
      <Journal view={view} />
      {view.last_hash && <p class="last-hash">{t.hash}: <code>{view.last_hash}</code><br /><span class="quiet">{t.hashHow}</span></p>}
    </>
  );
}

/** Everything that is written down of one bike. */
export function HistoryPage({ id }: { id: string }) {
  const answered = useAnswer(`history ${id}`, () => ask.history(id), concernsOrder(id));
  return (
    <div class="page trail-page">
      <h1><span class="number">{id}</span> {answered.value?.rider} <span class="quiet">{t.of}</span></h1>
      <p class="papers">
        <button type="button" class="do" onClick={() => print()}>{t.print}</button>{' '}
        <a href={orderPath(id)}>{t.order} {id}</a> <a href={benchPath(id)}>{t.atBench}</a> <a href={sheetPath(id)}>{t.sheet}</a>{' '}
        <a href={historyPdfPath(id)}>{t.pdf}</a> <a href={ownersPackPath(id)}>{t.ownersPack}</a>
      </p>
      <Body answered={answered}>{(view) => <Whole view={view} />}</Body>
    </div>
  );
}
