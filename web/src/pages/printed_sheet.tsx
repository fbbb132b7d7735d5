import type { Sheet, SheetStep, SheetValue } from '../ask/ask';
import { benchPath, orderPath, partPath, pdfPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { minutes } from '../words/amount';
import { say } from '../words/say';
import { useSheet } from './bench_sheet';
import { DoesTable } from './does_panel';

const t = say.bench;

const Us = ({ words }: { words: string }) => (words ? <><br /><span class="us">{words}</span></> : null);

function ValueRow({ value }: { value: SheetValue }) {
  return (
    <tr>
      <th scope="row">{value.name}{value.count > 1 && `, ${t.times(value.count)}`}{value.stop && <span class="stop-word"> <Mark shape="struck square" tone="stop" /> STOP</span>}</th>
      <td>{value.pass_or_fail ? t.passFail : value.target_text}{value.target_text && <Us words={value.us_text} />}</td>
      <td>{value.range_text}{!value.target_text && <Us words={value.us_text} />}{value.range_text && <><br /><span class="source">{value.strictest.source}</span></>}</td>
      <td class="write" />
    </tr>
  );
}

function StepBlock({ step }: { step: SheetStep }) {
  return (
    <section class="printed-step">
      <h3><span class="box">{step.done ? '✓' : ''}</span> {step.number}. {step.name}</h3>
      <p class="small">
        {step.operation}, {step.area}, {step.skill}, {t.minutes(minutes(step.minutes_low), minutes(step.minutes_high))}
        {step.after.length > 0 && `, ${t.after} ${step.after.join(', ')}`}
      </p>
      {step.cautions.map((caution) => <p key={caution} class="caution"><Mark shape="triangle" tone="care" /> {caution}</p>)}
      <p>{step.steps}</p>
      {step.tools.length + step.consumables.length > 0 && <p class="small">{[...step.tools, ...step.consumables].join(', ')}</p>}
      {step.values.length > 0 && (
        <table>
          <thead><tr><th scope="col">{t.value}</th><th scope="col">{t.set}</th><th scope="col">{t.limits}</th><th scope="col">{t.reading}</th></tr></thead>
          <tbody>{step.values.map((value) => <ValueRow key={value.reading} value={value} />)}</tbody>
        </table>
      )}
      {step.hands > 1 && <p><Mark shape="triangle" tone="care" /> {t.hands(step.hands)}</p>}
      {step.second_person && <p><Mark shape="eye" tone="ink" /> {t.second}</p>}
      {step.unattended_minutes > 0 && <p>{t.wait(minutes(step.unattended_minutes))}</p>}
    </section>
  );
}

function Whole({ sheet }: { sheet: Sheet }) {
  return (
    <div class="printed">
      <p class="need">{sheet.need}</p>
      <p>{sheet.build}. {sheet.frame}. {t.work(minutes(sheet.minutes_low), minutes(sheet.minutes_high))}; {t.chain(minutes(sheet.longest_chain_low), minutes(sheet.longest_chain_high))}.</p>
      <p class="small">{t.safety}</p>
      {sheet.open_questions.length > 0 && (
        <div class="questions"><h2>{t.open}</h2><ul>{sheet.open_questions.map((q) => <li key={q}><Mark shape="gap" tone="care" /> {q}</li>)}</ul></div>
      )}
      <DoesTable order={sheet.order} />
      <h2>{t.steps}</h2>
      {sheet.steps.map((step) => <StepBlock key={step.number} step={step} />)}
      <h2>{t.checks}</h2>
      <ul class="checks">
        {sheet.checks.map((check) => (
          <li key={check.id}><span class="box" /> <b>{check.mark}</b> {check.text} <span class="small">{check.limit} {check.id}</span></li>
        ))}
      </ul>
      <h2>{t.parts}</h2>
      <table class="book">
        <tbody>
          {sheet.parts.map((part) => (
            <tr key={part.slot}>
              <th scope="row">{part.position}</th>
              <td><a href={partPath(part.part)}>{part.part}</a></td>
              <td>{part.name}{part.quantity > 1 && ` × ${part.quantity}`}</td>
              <td class={part.has_serial ? 'write' : ''}>{part.has_serial && <span class="small">{t.serial}</span>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function PrintedSheetPage({ id }: { id: string }) {
  const answered = useSheet(id);
  return (
    <div class="page sheet-page">
      <h1><span class="number">{id}</span> {answered.value?.rider} <span class="quiet">{t.printed}</span></h1>
      <p class="papers">
        <button type="button" class="do" onClick={() => print()}>{t.print}</button>{' '}
        <a href={pdfPath(id)} target="_blank" rel="noopener">{say.order.pdf}</a> <a href={benchPath(id)}>{t.stepByStep}</a> <a href={orderPath(id)}>{say.orders.number} {id}</a>
      </p>
      <Body answered={answered}>{(sheet) => <Whole sheet={sheet} />}</Body>
    </div>
  );
}
