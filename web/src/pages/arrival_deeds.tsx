import { useState } from 'preact/hooks';
import { ask, type ArrivalLine } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { Told } from '../marks/told';
import { money } from '../words/amount';
import { dayShort } from '../words/day';
import { goods as t } from '../words/goods';
import { photos as photoWords } from '../words/photos';
import { serialsOf } from './arrival_filter';
import { Complaint, Stepper, useDeed } from './deed';
import { ChoiceField, DayField, TextField } from './field';
import { Photos, TakePhoto } from './photos';

interface DeedProps {
  line: ArrivalLine;
  onDone: (line: ArrivalLine) => void;
}

const kTroubles: [string, string][] = [['wrong', 'wrong'], ['damage seen', 'damage seen'], ['damage hidden', 'damage hidden']];

/** Some pieces and the steps they may take. */
function Pieces({ line, onDone, title, lead, most, steps, asksTrouble, asksSerial }: DeedProps & {
  title: string; lead?: string; most: number; steps: [step: string, words: string][]; asksTrouble: boolean; asksSerial: boolean;
}) {
  const [pieces, setPieces] = useState(most);
  const [trouble, setTrouble] = useState('wrong');
  const [serials, setSerials] = useState('');
  const { busy, complaint, run } = useDeed(onDone);
  const now = Math.min(pieces, most);
  const step = (name: string) => run(() => ask.goodsStep(line.id, {
    step: name, pieces: now, serials: serialsOf(serials),
    trouble: asksTrouble && name !== 'accept' ? trouble : '',
  }));
  return (
    <section class="pieces-deed" aria-label={title}>
      <h2>{title}</h2>
      {lead && <p class="quiet">{lead}</p>}
      <Stepper label={t.how} value={now} most={most} onValue={setPieces} />
      {asksTrouble && <ChoiceField label={t.trouble} value={trouble} options={kTroubles} onValue={setTrouble} />}
      {asksSerial && <TextField label={t.serials(now)} lines={2} value={serials} onValue={setSerials} hint={t.serialHint} />}
      <Complaint words={complaint} />
      <p class="deeds">
        {steps.map(([name, words], i) => (
          <button key={name} type="button" class={i === 0 ? 'do large' : 'plain'} disabled={busy || now === 0} onClick={() => step(name)}>{words}</button>
        ))}
      </p>
    </section>
  );
}

export const ToLookAt = (props: DeedProps) => (
  <Pieces {...props} title={t.toLookAt} most={props.line.to_look_at} asksTrouble asksSerial={props.line.asks_serial}
    steps={[['accept', t.isGood], ['quarantine', t.notGood]]} />
);

export function InQuarantine(props: DeedProps) {
  const numbered = props.line.marked.some((marked) => marked.place === 'quarantined' && marked.serial);
  return (
    <Pieces {...props} title={t.inQuarantine} lead={t.quarantineLead} most={props.line.quarantined} asksTrouble={false}
      asksSerial={props.line.asks_serial && (!numbered || props.line.quarantined > 1)}
      steps={[['send back', t.sendBack], ['release', t.release]]} />
  );
}

export const FoundBad = (props: DeedProps) => (
  <details class="found-bad">
    <summary>{t.findBad}</summary>
    <Pieces {...props} title={t.findBad} lead={t.findBadLead} most={props.line.accepted} asksTrouble
      asksSerial={props.line.asks_serial && props.line.accepted > 1} steps={[['find bad', t.notGood]]} />
  </details>
);

/** Photographs of the delivery, or of what a claim is about. */
function LinePhotos({ line, claim }: { line: ArrivalLine; claim: number }) {
  const photos = claim === 0 ? line.photos : line.claims[claim - 1]?.photos ?? [];
  return (
    <>
      <Photos photos={photos} />
      <TakePhoto of={{ kind: 'goods', line: line.id, claim }} />
    </>
  );
}

export const DeliveryPhotos = ({ line }: { line: ArrivalLine }) => (
  <section>
    <h2>{photoWords.title}</h2>
    <p class="quiet">{photoWords.goods}</p>
    <LinePhotos line={line} claim={0} />
  </section>
);

export function LineClaims({ line, onDone }: DeedProps) {
  const { busy, complaint, run } = useDeed(onDone);
  if (line.claims.length === 0) return null;
  const tell = (number: number, what: string) => run(() => ask.claimStep(line.id, { number, what }));
  return (
    <section>
      <h2>{t.claims}</h2>
      <Complaint words={complaint} />
      <ul class="plain-list claims">
        {line.claims.map((claim) => (
          <li key={claim.number}>
            <p>{t.claim(claim.number, claim.trouble, claim.pieces)}. <span class={claim.pressing ? 'marked stop' : 'marked'}>{claim.pressing && <Mark shape="flag" tone="stop" />}<Told how={claim.terms}>{claim.clock}</Told></span></p>
            {claim.note && <p class="quiet">{claim.note}</p>}
            <LinePhotos line={line} claim={claim.number} />
            {!claim.settled && (
              <p class="deeds">
                {!claim.told && <button type="button" class="do" disabled={busy} onClick={() => tell(claim.number, 'told')}>{t.told}</button>}
                {([['credited', t.credited], ['sent again', t.again], ['refused', t.refused]] as const).map(([what, words]) => (
                  <button key={what} type="button" class="plain" disabled={busy} onClick={() => tell(claim.number, what)}>{words}<span class="unseen">, {t.claim(claim.number, claim.trouble, claim.pieces)}</span></button>
                ))}
              </p>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Modes({ line, onDone }: DeedProps) {
  const { currency } = useShop();
  const { busy, complaint, run } = useDeed(onDone);
  if (line.modes.length < 2) return null;
  const price = (extra: number | null) => {
    if (extra === null) return t.noPrice;
    if (extra === 0) return t.same;
    return extra > 0 ? t.extra(money(extra, currency)) : t.cheaper(money(-extra, currency));
  };
  return (
    <>
      <h3>{t.modes}</h3>
      <ul class="plain-list">
        {line.modes.map((mode) => (
          <li key={mode.mode}>
            <b>{mode.mode}</b> <Told how={mode.basis}>{t.oddsWords(dayShort(mode.day_50), dayShort(mode.day_90))}</Told>{' '}
            {mode.usual
              ? <span class="quiet">{t.asThingsStand}</span>
              : <>{price(mode.extra_cents)} <button type="button" class="plain" disabled={busy} onClick={() => run(() => ask.freightMode(line.id, mode.mode))}>{t.byMode(mode.mode)}</button></>}
          </li>
        ))}
      </ul>
      <Complaint words={complaint} />
    </>
  );
}

export function Road({ line, onDone }: DeedProps) {
  const { busy, complaint, run } = useDeed(onDone);
  const [day, setDay] = useState('');
  const next = line.legs.find((leg) => !leg.done);
  const known = line.mode !== '';
  const sent = line.legs.length > 0 && !next;
  return (
    <section class="goods-road">
      <h2>{t.road}</h2>
      {known && (
        <ol class="legs">
          {line.legs.map((leg) => (
            <li key={leg.leg} class={leg.done ? 'done' : leg === next ? 'now' : 'to-come'} aria-current={leg === next ? 'step' : undefined}>
              <Mark shape={leg.done ? 'tick' : leg === next ? 'half' : 'ring'} tone={leg.done ? 'ink' : leg === next ? 'touch' : 'quiet'} />{' '}
              {leg.leg} <span class="quiet">{leg.done ? t.done(dayShort(leg.done)) : leg === next ? t.nowOn : ''}</span>
            </li>
          ))}
        </ol>
      )}
      {line.where && !known && <p>{line.where}</p>}
      <Complaint words={complaint} />
      {!sent && (
        <button type="button" class="do" disabled={busy} onClick={() => run(() => ask.legDone(line.id, {}))}>
          {known && next ? t.legDone(next.leg) : t.sent}
        </button>
      )}
      <Modes line={line} onDone={onDone} />
      <form class="confirm-day" onSubmit={(event) => { event.preventDefault(); if (day) void run(() => ask.confirmLine(line.id, day)); }}>
        <DayField label={t.suppliersDay} value={day} onValue={setDay} hint={line.confirmed ? dayShort(line.confirmed) : t.noWord} />
        <button type="submit" class="plain" disabled={busy || !day}>{t.confirm}</button>
      </form>
    </section>
  );
}
