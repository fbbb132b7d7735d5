import { useState } from 'preact/hooks';
import { ask, type RecallLine, type RecallView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { recallPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { recallWords as t } from '../words/recalls';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { DayField, TextField, TickField } from './field';

export const Danger = () => <span class="marked stop"><Mark shape="struck square" tone="stop" /> {t.danger}</span>;

function Line({ line }: { line: RecallLine }) {
  return (
    <li>
      <span><a href={recallPath(line.number)}><b>{line.number}</b> {line.part}</a> {line.danger && <Danger />}</span>
      <span>{line.wrong}</span>
      <span>{line.progress}.{line.held > 0 && ` ${t.held(line.held)}.`}</span>
      <span class="small quiet">{line.closed ? t.closed(line.closed) : t.opened(line.opened, line.opened_by)}</span>
    </li>
  );
}

const kEmpty = { notice: '', part: '', kind: '', maker: '', lot_from: '', lot_to: '', serial_from: '', serial_to: '', day_from: '', day_to: '', wrong: '', remedy: '' };

/** A notice as it came, written down once. */
function OpenRecall() {
  const staff = useAnswer('staff', ask.staff, () => false);
  const [fields, setFields] = useState(kEmpty);
  const by = useByWhom();
  const [danger, setDanger] = useState(false);
  const { busy, complaint, run } = useDeed<RecallView>((view) => go(recallPath(view.line.number)));
  const field = (name: keyof typeof kEmpty) => ({ value: fields[name], onValue: (value: string) => setFields((old) => ({ ...old, [name]: value })) });
  const submit = (event: Event) => {
    event.preventDefault();
    const { day_from, day_to, ...texts } = fields;
    run(() => ask.openRecall({ ...texts, day_from: day_from || null, day_to: day_to || null, danger, who: by.who }));
  };
  return (
    <Body answered={staff}>
      {(people) => (
        <form class="recall-form" onSubmit={submit} aria-labelledby="open-recall">
          <TextField label={t.part} {...field('part')} />
          <TextField label={t.kind} hint={t.kindHint} {...field('kind')} />
          <TextField label={t.maker} {...field('maker')} />
          <TextField label={t.lotFrom} {...field('lot_from')} />
          <TextField label={t.lotTo} {...field('lot_to')} />
          <span />
          <TextField label={t.serialFrom} {...field('serial_from')} />
          <TextField label={t.serialTo} {...field('serial_to')} />
          <span />
          <DayField label={t.dayFrom} {...field('day_from')} />
          <DayField label={t.dayTo} {...field('day_to')} />
          <span />
          <TextField label={t.wrong} lines={2} {...field('wrong')} />
          <TextField label={t.remedy} lines={2} {...field('remedy')} />
          <TextField label={t.notice} lines={2} {...field('notice')} />
          <ByWhomField by={by} label={t.person} people={people} />
          <TickField label={t.isDanger} value={danger} onValue={setDanger} />
          <p class="whole"><button type="submit" class="do" disabled={busy}>{t.openDo}</button></p>
          <div class="whole"><Complaint words={complaint} /></div>
        </form>
      )}
    </Body>
  );
}

export function RecallsPage() {
  const answered = useAnswer('recalls', ask.recalls);
  return (
    <div class="page recalls-page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/records/trace">{t.trace}</a></span></div>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p>{view.sentence}</p>
            <ul class="recalls-list">{view.recalls.map((line) => <Line key={line.number} line={line} />)}</ul>
          </>
        )}
      </Body>
      <section>
        <h2 id="open-recall">{t.open}</h2>
        <p>{t.openLead}</p>
        <OpenRecall />
      </section>
    </div>
  );
}
