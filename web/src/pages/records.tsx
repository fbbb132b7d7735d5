import { useEffect, useState } from 'preact/hooks';
import { ask, type FoundLine, type JournalReport, Refusal } from '../ask/ask';
import { Mark } from '../marks/mark';
import { Refused } from '../marks/waiting';
import { plain } from '../words/amount';
import { bench } from '../words/bench';
import { keptWords } from '../words/kept';
import { minutesWords } from '../words/minutes';
import { recallWords } from '../words/recalls';
import { say } from '../words/say';

const t = say.records;

function Find() {
  const [words, setWords] = useState('');
  const [found, setFound] = useState<FoundLine[] | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  useEffect(() => {
    if (!words.trim()) return setFound(undefined);
    let wanted = true;
    const take = (lines: FoundLine[] | undefined, no?: Refusal) => {
      if (!wanted) return;
      setFound(lines);
      setRefusal(no);
    };
    const timer = setTimeout(() => {
      ask.find(words.trim()).then((lines) => take(lines), (error: unknown) => {
        if (!(error instanceof Refusal)) throw error;
        take(undefined, error);
      });
    }, 120);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [words]);
  return (
    <section aria-labelledby="find-in-records">
      <h2 id="find-in-records">{t.find}</h2>
      <div class="narrow">
        <label class="wide"><span>{t.findLead}</span>
          <input type="text" value={words} autocomplete="off" onInput={(event) => setWords(event.currentTarget.value)} />
        </label>
      </div>
      {refusal && <Refused refusal={refusal} />}
      <div role="status">
        {found && found.length === 0 && <p>{say.find.nothing(words.trim())}</p>}
        {found && found.length > 0 && (
          <ul class="found-list">{found.map((line) => <li key={line.link + line.text}><span class="kind">{line.kind}</span> <a href={line.link}>{line.text}</a></li>)}</ul>
        )}
      </div>
    </section>
  );
}

function Report({ report }: { report: JournalReport }) {
  return (
    <div class="report">
      <p class={report.whole ? 'marked' : 'marked stop'}>
        <Mark shape={report.whole ? 'disc' : 'struck square'} tone={report.whole ? 'ink' : 'stop'} />
        <b>{report.whole ? t.whole : t.broken}</b>, {t.entries(plain(report.entries))}
      </p>
      <p>{report.sentence}</p>
      <p class="small">{t.hash}: <code>{report.last_hash}</code></p>
    </div>
  );
}

function Journal() {
  const [report, setReport] = useState<JournalReport | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [busy, setBusy] = useState(false);
  const verify = async () => {
    setBusy(true);
    setRefusal(undefined);
    try {
      setReport(await ask.verifyJournal());
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <section aria-labelledby="the-journal">
      <h2 id="the-journal">{t.journal}</h2>
      <p class="measure">{t.lead}</p>
      <button type="button" class="do" disabled={busy} onClick={verify}>{busy ? t.checking : t.verify}</button>
      <div role="status">{report && <Report report={report} />}</div>
      {refusal && <Refused refusal={refusal} />}
    </section>
  );
}

export function RecordsPage() {
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/records/promises">{keptWords.title}</a> <a href="/records/minutes">{minutesWords.title}</a> <a href="/records/trace">{bench.trace.title}</a> <a href="/records/recalls">{recallWords.title}</a></span></div>
      <Find />
      <Journal />
    </div>
  );
}
