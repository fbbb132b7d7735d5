import { useState } from 'preact/hooks';
import { ask, type ArrivalLine } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { rulerFor, Spread } from '../drawing/spread';
import { partPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Told } from '../marks/told';
import { Body } from '../marks/waiting';
import { dayShort } from '../words/day';
import { goods as t } from '../words/goods';
import { ForWhom } from './arrivals';
import { DeliveryPhotos, FoundBad, InQuarantine, LineClaims, Road, ToLookAt } from './arrival_deeds';
import { GiveUp } from './place_panel';
import { Deliveries } from './arrival_miscount';
import { Receive } from './arrival_receive';

const kCounts = ['to_come', 'to_look_at', 'accepted', 'quarantined', 'sent_back', 'written_off'] as const;
const kCarriers = ['parcel', 'road', 'rail', 'sea', 'air'];

function Counted({ line }: { line: ArrivalLine }) {
  return (
    <ul class="arrival-counts">
      {kCounts.filter((name) => line[name] > 0).map((name) => (
        <li key={name}><b>{line[name]}</b> {t.count[name]}</li>
      ))}
    </ul>
  );
}

function Line({ line, onDone }: { line: ArrivalLine; onDone: (line: ArrivalLine) => void }) {
  const { today } = useShop();
  const key = `${line.to_come} ${line.to_look_at} ${line.quarantined} ${line.accepted} ${line.sent_back}`;
  return (
    <>
      <p class="lead"><a href={partPath(line.part)}>{line.name}</a>, {line.supplier_name}. {t.ordered(line.ordered, dayShort(line.placed))}; {line.state}.</p>
      <Counted line={line} />
      <p class="arrival-for">{t.forWhom}: <ForWhom orders={line.orders} /></p>
      {line.day_50 && line.day_90 && (
        <p class="arrival-when">
          <Spread today={today} half={line.day_50} nine={line.day_90} needed={line.needed_by}
            ruler={rulerFor(today, [line.day_90, line.needed_by ?? line.day_90])} />
          <Told how={line.basis}>{t.oddsWords(dayShort(line.day_50), dayShort(line.day_90))}</Told>
          {line.needed_by && <span class="quiet">{t.neededBy(dayShort(line.needed_by))}</span>}
        </p>
      )}
      <div class="arrival-sides">
        <div>
          {line.to_look_at > 0 && <ToLookAt key={`look ${key}`} line={line} onDone={onDone} />}
          {line.to_come > 0 && <Receive key={`receive ${key}`} line={line} carriers={kCarriers} onDone={onDone} />}
          {line.quarantined > 0 && <InQuarantine key={`quarantine ${key}`} line={line} onDone={onDone} />}
          {line.to_come + line.to_look_at === 0 && <p class="quiet">{t.nothingToCome}</p>}
          {line.accepted > 0 && <FoundBad key={`bad ${key}`} line={line} onDone={onDone} />}
        </div>
        <div>
          <Deliveries key={`delivered ${key} ${line.deliveries.map((one) => one.pieces).join(' ')}`} line={line} onDone={onDone} />
          <LineClaims line={line} onDone={onDone} />
          <DeliveryPhotos line={line} />
          {line.to_come > 0 && <Road line={line} onDone={onDone} />}
          {line.to_come === line.ordered && line.legs.every((leg) => !leg.done) && <GiveUp key={`give up ${key}`} line={line} onDone={onDone} />}
          {line.marked.length > 0 && (
            <section>
              <h2>{t.numbers}</h2>
              <ul class="plain-list">
                {line.marked.map((marked) => (
                  <li key={marked.serial + marked.lot + marked.place}><span class="number">{marked.serial}</span>{marked.lot && ` lot ${marked.lot} (${marked.pieces})`} <span class="quiet">{marked.place}</span></li>
                ))}
              </ul>
            </section>
          )}
        </div>
      </div>
    </>
  );
}

export function ArrivalPage({ id }: { id: string }) {
  const answered = useAnswer(`arrival ${id}`, () => ask.arrival(id));
  const [told, setTold] = useState('');
  const onDone = (line: ArrivalLine) => {
    answered.put(line);
    setTold(t.booked(line.id, line.state));
  };
  return (
    <div class="page arrival">
      <div class="title-line"><h1>{t.line(id)}</h1><a href="/arrivals">{t.all}</a></div>
      <p class="booked" role="status">{told}</p>
      <Body answered={answered}>{(line) => <Line line={line} onDone={onDone} />}</Body>
    </div>
  );
}
