import { useState } from 'preact/hooks';
import { type Aid, type AidInput, ask, type Reckoned, type WheelOnStand } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { fileFieldOf, presets, type Typed, useReckoned } from '../ask/use_reckoned';
import { BandDrawing } from '../drawing/band';
import { ScaleDrawing } from '../drawing/scale';
import { TensionBars, WheelDrawing } from '../drawing/wheel';
import { aidPath, truingPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body, Refused } from '../marks/waiting';
import { say } from '../words/say';
import { ChoiceField, TextField } from './field';
import { GivenFile } from './given_file';

const t = say.aids;
export function AidField({ input, value, complaint, onValue }: {
  input: AidInput; value: string; complaint: string | undefined; onValue: (value: string) => void;
}) {
  const common = { label: input.label, hint: input.help, complaint, value, onValue };
  if (input.kind === 'choice') {
    return <ChoiceField {...common} options={input.choices.map((word) => [word, word])} />;
  }
  return <TextField {...common} />;
}

function WheelAsked({ wheel }: { wheel: WheelOnStand }) {
  return (
    <>
      <p class="aid-at-stand"><a href={truingPath()}>{say.wheel.atStand}</a></p>
      {wheel.said.map((sentence) => <p key={sentence} class="measure">{sentence}</p>)}
      <WheelDrawing wheel={wheel} />
      <TensionBars wheel={wheel} />
    </>
  );
}

export function Figures({ reckoned }: { reckoned: Reckoned }) {
  return (
    <>
      {reckoned.cautions.map((caution) => <p key={caution} class="care aid-caution"><Mark shape="half" tone="care" /> {caution}</p>)}
      {reckoned.wheel && <WheelAsked wheel={reckoned.wheel} />}
      <dl class="figures">
        {reckoned.rows.map((row) => (
          <div key={row.name}>
            <dt>{row.name}{row.note && <span class="small">{row.note}</span>}</dt>
            <dd><b>{row.value}</b>{row.us && <span class="us">{row.us}</span>}</dd>
          </div>
        ))}
      </dl>
      {reckoned.bands.map((band) => <BandDrawing key={band.title} band={band} />)}
      {reckoned.scales.map((scale) => <ScaleDrawing key={scale.title} scale={scale} />)}
      {reckoned.tables.map((table) => (
        <div key={table.title} class="aid-table" tabIndex={0} role="region" aria-label={table.title}>
          <h2>{table.title}</h2>
          <table>
            <thead><tr>{table.columns.map((column) => <th key={column} scope="col">{column}</th>)}</tr></thead>
            <tbody>
              {table.rows.map((cells) => (
                <tr key={cells[0]}>{cells.map((cell, i) => i === 0 ? <th key={i} scope="row">{cell}</th> : <td key={i}>{cell}</td>)}</tr>
              ))}
            </tbody>
          </table>
        </div>
      ))}
    </>
  );
}

function OneAid({ aid }: { aid: Aid }) {
  const [typed, setTyped] = useState<Typed>(presets(aid));
  const [file, setFile] = useState<File>();
  const { reckoned, refusal } = useReckoned(aid, typed, file);
  const field = refusal?.view.field;
  const isOurs = aid.inputs.some((input) => input.key === field);
  return (
    <>
      <p class="lead">{aid.lead}</p>
      {aid.caution && <p class="care aid-caution"><Mark shape="half" tone="care" /> {aid.caution}</p>}
      <div class="aid">
        <form class="aid-fields" onSubmit={(event) => event.preventDefault()} noValidate>
          {aid.inputs.map((input) => input.kind === 'file'
            ? <GivenFile key={input.key} input={input} onFile={setFile}
                complaint={input.key === field ? refusal?.view.sentence : undefined} />
            : (
            <AidField key={input.key} input={input} value={typed[input.key] ?? ''}
              complaint={input.key === field ? refusal?.view.sentence : undefined}
              onValue={(value) => setTyped({ ...typed, [input.key]: value })} />
          ))}
          <button type="button" class="plain" onClick={() => setTyped(presets(aid))}>{t.reset}</button>
        </form>
        <section class="aid-answer" aria-live="polite" aria-label={t.answer}>
          {refusal && !isOurs && <Refused refusal={refusal} />}
          {!reckoned && !refusal && fileFieldOf(aid) && !file && <p class="quiet">{t.wantsFile}</p>}
          {refusal && isOurs && <p class="quiet">{t.mend}</p>}
          {reckoned && <Figures reckoned={reckoned} />}
          {reckoned?.going_on && (
            <button type="button" class="do" onClick={() => setTyped({ ...typed, ...reckoned.going_on?.fields })}>{reckoned.going_on.label}</button>
          )}
          <p class="small aid-method">{aid.method} {t.source(aid.source)}</p>
        </section>
      </div>
    </>
  );
}

export function AidsPage() {
  const answered = useAnswer('aids', ask.aids, () => false);
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><a href="/bench">{say.bench.title}</a></div>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>
        {(aids) => (
          <ul class="aid-list">
            {aids.map((aid) => (
              <li key={aid.id}>
                <a href={aidPath(aid.id)}>{aid.title}</a>
                <span>{aid.lead}{aid.id === 'truing' && <> <a class="beside" href={truingPath()}>{say.wheel.atStand}</a></>}</span>
              </li>
            ))}
          </ul>
        )}
      </Body>
    </div>
  );
}

export function AidPage({ id }: { id: string }) {
  const answered = useAnswer('aids', ask.aids, () => false);
  const aid = answered.value?.find((one) => one.id === id);
  return (
    <div class="page">
      <div class="title-line"><h1>{aid?.title ?? t.title}</h1><a href="/bench/aids">{t.title}</a></div>
      <Body answered={answered}>{() => aid ? <OneAid aid={aid} /> : <p class="lead">{t.none(id)}</p>}</Body>
    </div>
  );
}
