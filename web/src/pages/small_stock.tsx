import { useState } from 'preact/hooks';
import { ask, type PartView, type SmallStockView, type StockLineView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { StockLevel } from '../drawing/stock_level';
import { arrivalPath, partPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Told } from '../marks/told';
import { Body } from '../marks/waiting';
import { inHundred, plain } from '../words/amount';
import { goods } from '../words/goods';
import { say } from '../words/say';
import { stock as t } from '../words/stock';
import { Complaint, Stepper, useDeed } from './deed';
import { TextField } from './field';

/** From so many in 100 on a person should look at it, whether or not it is to be bought. */
const kCare = 0.2;
/** As the server takes them at once. */
const kMostTaken = 200;

/** Pieces off the free shelf; of which part is typed or scanned where none is given. */
function Take({ part, name, most, onTaken }: { part?: string; name?: string; most: number; onTaken: (told: string) => void }) {
  const [typed, setTyped] = useState({ part: part ?? '', whatFor: t.repair });
  const [pieces, setPieces] = useState(1);
  const { busy, complaint, run } = useDeed<PartView>((view) => onTaken(t.taken(pieces, view.row.part.name, typed.whatFor.trim())));
  const save = (event: Event) => {
    event.preventDefault();
    void run(() => ask.useUp(typed.part.trim(), { quantity: pieces, what_for: typed.whatFor.trim() }));
  };
  return (
    <form class="take-form" onSubmit={save} aria-label={name ? t.takeForm(name) : t.takeAny} noValidate>
      {part === undefined && <TextField label={t.partNumber} value={typed.part} onValue={(value) => setTyped({ ...typed, part: value })} />}
      <Stepper label={t.pieces} value={pieces} most={most} onValue={setPieces} />
      <TextField label={t.whatFor} value={typed.whatFor} onValue={(value) => setTyped({ ...typed, whatFor: value })} />
      <button type="submit" class="do" disabled={busy || pieces === 0 || !typed.part.trim()}>{t.takeNow}</button>
      <Complaint words={complaint} />
    </form>
  );
}

function RunsOut({ line }: { line: StockLineView }) {
  if (line.run_out === null) return <span class="quiet">{t.noEnd}</span>;
  const care = line.run_out >= kCare;
  return (
    <span>
      <span class={care ? 'marked care' : undefined}>
        {care && <Mark shape="triangle" tone="care" />}
        <Told how={t.runOutHow(line.next)}>{line.run_out < 0.005 ? t.hardly : inHundred(line.run_out)}</Told>
      </span>
      <span class="small">{line.next_line ? <a href={arrivalPath(line.next_line)}>{line.next}</a> : line.next}</span>
    </span>
  );
}

function Line({ line, open, onOpen, onTaken }: { line: StockLineView; open: boolean; onOpen: () => void; onTaken: (told: string) => void }) {
  const here = Math.max(0, line.free);
  return (
    <>
      <tr class={line.to_buy > 0 ? 'due' : undefined} data-part={line.part}>
        <th scope="row">
          <a href={partPath(line.part)}>{line.name}</a> <span class="small">{line.part}</span>
          <span class="small why">{line.why}.</span>
        </th>
        <td class="num" data-of={t.here}><span>{line.free}{line.under_way === 0 && line.taken > 0 && <span class="small"> {t.ofShelf(line.taken)}</span>}</span></td>
        <td class="num" data-of={t.coming}>
          {line.under_way === 0
            ? <span class="quiet">·</span>
            : <span>{line.under_way}{line.taken > 0 && <span class="small"> {t.ofBoth(line.taken)}</span>}</span>}
        </td>
        <td class="num" data-of={t.perWeek}><Told how={line.used}>{plain(line.per_week, line.per_week < 9.95 ? 1 : 0)}</Told></td>
        <td data-of={t.levels}>
          <span class="levels">
            <StockLevel here={here} coming={line.under_way} at={line.at} upTo={line.up_to} />
            <Told how={t.levelsHow(inHundred(line.at_hand))}>{line.at < 0 ? t.onAsking(line.up_to) : t.between(line.at, line.up_to)}</Told>
          </span>
        </td>
        <td class="num" data-of={t.runsOut}><RunsOut line={line} /></td>
        <td class="num" data-of={t.toBuy}>
          {line.to_buy > 0
            ? <span class="marked"><Mark shape="flag" tone="ink" /><span><b>{line.to_buy}</b> <span class="small">{line.supplier_name}</span></span></span>
            : <span class="quiet">{t.enough}</span>}
        </td>
        <td class="deed">
          {here > 0 && <button type="button" class="plain" aria-expanded={open} onClick={onOpen}>{t.take}<span class="unseen"> {line.name}</span></button>}
        </td>
      </tr>
      {open && here > 0 && <tr class="take-row"><td colSpan={8}><Take part={line.part} name={line.name} most={here} onTaken={onTaken} /></td></tr>}
    </>
  );
}

function Lines({ view, onTaken }: { view: SmallStockView; onTaken: (told: string) => void }) {
  const [open, setOpen] = useState('');
  return (
    <table class="book fold small-stock">
      <caption class="unseen">{t.title}</caption>
      <thead>
        <tr>
          <th scope="col">{t.part}</th><th scope="col" class="num">{t.here}</th><th scope="col" class="num">{t.coming}</th>
          <th scope="col" class="num">{t.perWeek}</th><th scope="col">{t.levels}</th><th scope="col" class="num">{t.runsOut}</th>
          <th scope="col" class="num">{t.toBuy}</th><th scope="col"><span class="unseen">{t.take}</span></th>
        </tr>
      </thead>
      <tbody>
        {view.lines.map((line) => (
          <Line key={line.part} line={line} open={open === line.part} onTaken={(told) => { setOpen(''); onTaken(told); }}
            onOpen={() => setOpen(open === line.part ? '' : line.part)} />
        ))}
      </tbody>
    </table>
  );
}

export function SmallStockPage() {
  const answered = useAnswer('small stock', ask.smallStock);
  const [told, setTold] = useState('');
  const onTaken = (words: string) => {
    setTold(words);
    answered.now();
  };
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/parts">{goods.catalogue}</a> <a href="/parts/buy">{say.buying.title}</a></span></div>
      <p class="booked" role="status">{told}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="lead">{view.sentence}</p>
            <p class="quiet">{view.lines.length === 0 ? t.empty(view.how) : view.how}</p>
            {view.lines.length > 0 && <Lines view={view} onTaken={onTaken} />}
            <details class="found-bad" key={told} open={view.lines.length === 0 ? true : undefined}>
              <summary>{t.takeAny}</summary>
              <Take most={kMostTaken} onTaken={onTaken} />
            </details>
          </>
        )}
      </Body>
    </div>
  );
}
