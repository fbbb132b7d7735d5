import { useEffect, useState } from 'preact/hooks';
import { ask, type BuyGroup, type BuyView, type PlacedView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { orderPath, partPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { Told } from '../marks/told';
import { Body } from '../marks/waiting';
import { inHundred, money } from '../words/amount';
import { dayShort, weekdayShort } from '../words/day';
import { goods } from '../words/goods';
import { say } from '../words/say';
import { stock } from '../words/stock';
import { Placed, PlacePanel } from './place_panel';

const t = say.buying;

/** Within this many minutes of the cut-off the clock calls for a person. */
const kPressing = 60;

/** For what is best ordered today, the time that is left; else until when it leaves the same day. */
function Clock({ group }: { group: BuyGroup }) {
  const { today } = useShop();
  if (!group.clock) return null;
  if (group.day !== today) return <p class="cut-off quiet">{t.cutOff(group.cut_off)}</p>;
  const pressing = group.minutes_left > 0 && group.minutes_left <= kPressing;
  const past = group.minutes_left === 0;
  return (
    <p class={pressing ? 'cut-off marked stop' : past ? 'cut-off marked care' : 'cut-off marked'}>
      <Mark shape={past ? 'triangle' : 'flag'} tone={pressing ? 'stop' : past ? 'care' : 'ink'} /><span>{t.clock(group.clock)}</span>
    </p>
  );
}

function Group({ group, onPlaced }: { group: BuyGroup; onPlaced: (placed: PlacedView) => void }) {
  const { currency } = useShop();
  const sum = (cents: number) => money(cents, currency, true);
  return (
    <section class="supplier">
      <h2>{t.order(`${weekdayShort(group.day)} ${dayShort(group.day)}`, group.name)}</h2>
      <Clock group={group} />
      <table class="book fold">
        <thead>
          <tr>
            <th scope="col">{t.part}</th><th scope="col" class="num">{t.quantity}</th><th scope="col">{t.orders}</th><th scope="col">{t.by}</th>
            <th scope="col">{t.needed}</th><th scope="col">{t.lead}</th><th scope="col" class="num">{t.inTime}</th><th scope="col" class="num">{t.cost}</th>
          </tr>
        </thead>
        <tbody>
          {group.lines.map((line) => (
            <tr key={line.part + line.order_by}>
              <th scope="row"><a href={partPath(line.part)}>{line.name}</a> <span class="small">{line.part}</span></th>
              <td class="num" data-of={t.quantity}><span>{line.quantity}{line.needed < line.quantity && <span class="small"> ({t.pieces(line.needed)})</span>}</span></td>
              <td data-of={t.orders}><span class="used-in">{line.orders.map((order) => <a key={order} href={orderPath(order)}>{order}</a>)}{line.why && <Told how={line.why}>{t.forShelf}</Told>}</span></td>
              <td data-of={t.by}>
                {line.too_late
                  ? <span class="marked stop"><Mark shape="flag" tone="stop" />{t.tooLate}</span>
                  : dayShort(line.order_by)}
              </td>
              <td data-of={t.needed}>{dayShort(line.needed_by)}</td>
              <td data-of={t.lead}><Told how={line.basis}>{t.days(`${line.lead_days_50}`, `${line.lead_days_90}`)}</Told></td>
              <td class="num" data-of={t.inTime}>{inHundred(line.in_time)}</td>
              <td class="num" data-of={t.cost}><span>{sum(line.total_cents)}{line.quantity > 1 && <span class="small"> {t.each(sum(line.unit_cost_cents))}</span>}</span></td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="sums">
        {t.goods} {sum(group.goods_cents)}, {t.freight} {sum(group.freight_cents)}
        {group.surcharge_cents > 0 && <>, {t.surcharge} {sum(group.surcharge_cents)}</>}. {group.note}
      </p>
      <PlacePanel group={group} onPlaced={onPlaced} />
    </section>
  );
}

function Kits({ kits }: { kits: BuyView['kits'] }) {
  if (kits.length === 0) return null;
  return (
    <section class="supplier">
      <h2>{t.kits}</h2>
      <p class="quiet">{t.kitsHow}</p>
      <table class="book fold">
        <thead>
          <tr>
            <th scope="col">{t.forOrder}</th><th scope="col">{t.kitDay}</th><th scope="col" class="num">{t.toBuy}</th><th scope="col" class="num">{t.underWay}</th>
            <th scope="col" class="num">{t.complete}</th><th scope="col">{t.weakest}</th>
          </tr>
        </thead>
        <tbody>
          {kits.map((kit) => (
            <tr key={kit.order}>
              <th scope="row"><a href={orderPath(kit.order)}>{kit.order}</a></th>
              <td data-of={t.kitDay}>{dayShort(kit.day)}</td>
              <td class="num" data-of={t.toBuy}>{kit.to_buy}</td>
              <td class="num" data-of={t.underWay}>{kit.under_way}</td>
              <td class="num" data-of={t.complete}>{inHundred(kit.complete)}</td>
              <td data-of={t.weakest}><span><a href={partPath(kit.weakest)}>{kit.weakest_name}</a> <span class="small">{inHundred(kit.weakest_there)}</span></span></td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The clock goes on while the page is open. */
function useEveryMinute(run: () => void) {
  useEffect(() => {
    const timer = setInterval(run, 60_000);
    return () => clearInterval(timer);
  }, [run]);
}

export function BuyPage() {
  const answered = useAnswer('buy', ask.buy);
  const [placed, setPlaced] = useState<PlacedView>();
  useEveryMinute(answered.now);
  const onPlaced = (one: PlacedView) => {
    setPlaced(one);
    answered.now();
  };
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/parts/small-stock">{stock.title}</a> <a href="/arrivals">{goods.title}</a></span></div>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="lead">{view.sentence}</p>
            {placed && <Placed placed={placed} />}
            {view.groups.map((group) => <Group key={group.day + group.supplier} group={group} onPlaced={onPlaced} />)}
            <Kits kits={view.kits} />
            {view.loans.length > 0 && (
              <section>
                <h2>{t.loans}</h2>
                <ul class="plain-list">{view.loans.map((loan) => <li key={loan}>{loan}</li>)}</ul>
              </section>
            )}
            {view.no_offer.length > 0 && (
              <section>
                <h2>{t.noOffer}</h2>
                <ul class="plain-list">{view.no_offer.map((name) => <li key={name}><Mark shape="gap" tone="care" /> {name}</li>)}</ul>
              </section>
            )}
          </>
        )}
      </Body>
    </div>
  );
}
