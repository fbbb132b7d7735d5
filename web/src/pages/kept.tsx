import { ask, type KeptBandView, type KeptView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { KeptChart } from '../drawing/kept_chart';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { inHundred } from '../words/amount';
import { dayShort, dayWithYear, monthWithYear } from '../words/day';
import { keptWords as t } from '../words/kept';

function Chance({ band }: { band: KeptBandView }) {
  const words = t.range(band.least, band.most);
  if (band.kept >= band.least && band.kept <= band.most) return <>{words}</>;
  return (
    <span class="marked care">
      <Mark shape="gap" tone="care" />{words}: {band.kept < band.least ? t.fewer : t.more}
    </span>
  );
}

function Bands({ view }: { view: KeptView }) {
  return (
    <section aria-labelledby="said-and-kept">
      <h2 id="said-and-kept">{t.chart}</h2>
      <div class="kept-pair">
        <KeptChart bands={view.bands} />
        <div>
          <table class="book fold">
            <thead>
              <tr>
                <th scope="col">{t.said}</th><th scope="col" class="num">{t.promises}</th>
                <th scope="col" class="num">{t.kept}</th><th scope="col" class="num">{t.ofThem}</th>
                <th scope="col">{t.byChance}</th>
              </tr>
            </thead>
            <tbody>
              {[...view.bands, view.all].map((band) => (
                <tr key={band.words}>
                  <th scope="row">{band.words}</th>
                  <td class="num" data-of={t.promises}>{band.promises}</td>
                  <td class="num" data-of={t.kept}>{band.kept}</td>
                  <td class="num" data-of={t.ofThem}>{inHundred(band.kept / band.promises)}</td>
                  <td data-of={t.byChance}><Chance band={band} /></td>
                </tr>
              ))}
            </tbody>
          </table>
          <p class="small">{t.chartHow}</p>
        </div>
      </div>
    </section>
  );
}

function OtherWays({ view }: { view: KeptView }) {
  return (
    <section aria-labelledby="other-ways">
      <h2 id="other-ways">{t.otherWays}</h2>
      <table class="book fold">
        <thead>
          <tr>
            <th scope="col">{t.way}</th><th scope="col" class="num">{t.kept}</th>
            <th scope="col" class="num">{t.ofThem}</th><th scope="col" class="num">{t.longer}</th>
          </tr>
        </thead>
        <tbody>
          {view.other_ways.map((way) => (
            <tr key={way.words}>
              <th scope="row">{way.words}</th>
              <td class="num" data-of={t.kept}>{way.kept}</td>
              <td class="num" data-of={t.ofThem}>{inHundred(way.kept / view.all.promises)}</td>
              <td class="num" data-of={t.longer}>{t.days(way.days_longer)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Months({ view }: { view: KeptView }) {
  return (
    <section aria-labelledby="by-month">
      <h2 id="by-month">{t.months}</h2>
      <table class="book fold">
        <thead>
          <tr>
            <th scope="col">{t.month}</th><th scope="col" class="num">{t.promises}</th>
            <th scope="col" class="num">{t.kept}</th><th scope="col" class="num">{t.late}</th>
          </tr>
        </thead>
        <tbody>
          {[...view.months].reverse().map((month) => (
            <tr key={month.month}>
              <th scope="row">{monthWithYear(month.month)}</th>
              <td class="num" data-of={t.promises}>{month.promises}</td>
              <td class="num" data-of={t.kept}>{month.kept}</td>
              <td class="num" data-of={t.late}>
                {month.kept < month.promises ? t.lateDays(month.days_late) : '–'}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const kNewest = 40;

function offBy(days: number) {
  return days === 0 ? t.onTheDay : days < 0 ? t.sooner(-days) : t.later(days);
}

function Lines({ view }: { view: KeptView }) {
  return (
    <section aria-labelledby="each-promise">
      <h2 id="each-promise">{t.lines}{view.lines.length > kNewest && `: ${t.newest(kNewest)}`}</h2>
      {view.open > 0 && <p class="quiet">{t.open(view.open)}</p>}
      <table class="book fold">
        <thead>
          <tr>
            <th scope="col">{t.order}</th><th scope="col">{t.saidOn}</th><th scope="col">{t.promised}</th>
            <th scope="col" class="num">{t.odds}</th><th scope="col">{t.ready}</th><th scope="col">{t.by}</th>
          </tr>
        </thead>
        <tbody>
          {view.lines.slice(0, kNewest).map((line) => (
            <tr key={line.order + line.said}>
              <th scope="row" class="number">{line.order}</th>
              <td data-of={t.saidOn}>{dayShort(line.said)}</td>
              <td data-of={t.promised}>{dayWithYear(line.promised)}</td>
              <td class="num" data-of={t.odds}>{inHundred(line.in_100 / 100)}</td>
              <td data-of={t.ready}>{line.ready && dayShort(line.ready)}</td>
              <td data-of={t.by}>
                {line.kept ? offBy(line.days_late)
                  : <span class="marked stop"><Mark shape="flag" tone="stop" />{offBy(line.days_late)}</span>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Deliveries({ view }: { view: KeptView }) {
  if (view.deliveries === 0) return null;
  return (
    <section aria-labelledby="deliveries">
      <h2 id="deliveries">{t.deliveries}</h2>
      <p>{t.deliveriesLead(view.deliveries)}</p>
      <table class="book fold">
        <thead>
          <tr><th scope="col">{t.hereBy}</th><th scope="col" class="num">{t.came}</th></tr>
        </thead>
        <tbody>
          {view.delivery_bands.map((band) => (
            <tr key={band.in_100}>
              <th scope="row">{inHundred(band.in_100 / 100)}</th>
              <td class="num" data-of={t.came}>{inHundred(band.share)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

export function KeptPage() {
  const answered = useAnswer('kept', ask.kept);
  return (
    <div class="page kept">
      <h1>{t.title}</h1>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="promise-sentence">{view.sentence}</p>
            {view.all.promises > 0 && <Bands view={view} />}
            {view.all.promises > 0 && <OtherWays view={view} />}
            <Deliveries view={view} />
            {view.all.promises > 0 && <Months view={view} />}
            {view.all.promises > 0 && <Lines view={view} />}
          </>
        )}
      </Body>
    </div>
  );
}
