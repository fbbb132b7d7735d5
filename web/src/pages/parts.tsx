import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { ask, type PartRow, type PartsView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { partPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { standingMark } from '../marks/shape_of';
import { Body } from '../marks/waiting';
import { mass, money } from '../words/amount';
import { goods } from '../words/goods';
import { lists } from '../words/lists';
import { say } from '../words/say';
import { stock } from '../words/stock';
import { TickField } from './field';
import { type PartFilter, partsThatMatch, rowWindow, soughtParts } from './part_filter';
import { Purchases } from './purchases';
import { walkRows } from './walk_rows';

const t = say.parts;

/** How many facts are known, measured, not known: shape, number, and the words for whoever listens. */
export function Standings({ row }: { row: PartRow }) {
  const count = (word: string, n: number) => (
    <span class={n === 0 ? 'standing none' : `standing ${standingMark(word).tone}`} title={`${n} ${word}`}>
      <Mark {...standingMark(word)} />{n}<span class="unseen"> {word} </span>
    </span>
  );
  return <span class="standings">{count(t.known, row.known)}{count(t.measured, row.measured)}{count(t.notKnown, row.not_known)}</span>;
}

const some = (n: number) => (n === 0 ? <span class="quiet">·</span> : n);

function Row({ row, at }: { row: PartRow; at: number }) {
  const { currency } = useShop();
  const { part } = row;
  return (
    <tr aria-rowindex={at + 2}>
      <th scope="row"><a href={partPath(part.id)}>{part.id}</a></th>
      <td class="part-name"><b>{part.name}</b><span class="quiet">{part.maker}, {row.kind_name}{row.gone && `, ${t.gone}`}</span></td>
      <td class="num">{money(part.price_cents, currency, false)}</td>
      <td class="num extra">{part.mass_kg === null ? t.notKnown : mass(part.mass_kg)}</td>
      <td><Standings row={row} /></td>
      <td class="num stock">{some(row.on_shelf)}</td>
      <td class="num extra">{some(row.put_by)}</td>
      <td class="num extra">{some(row.under_way)}</td>
    </tr>
  );
}

/** What of a long list is on the screen; the list scrolls with the page. */
function useRowWindow(count: number, rowHeight: number) {
  const ref = useRef<HTMLTableElement>(null);
  const [seen, setSeen] = useState({ top: 0, screen: 900 });
  useEffect(() => {
    let frame = 0;
    const look = () => {
      frame = 0;
      const top = Math.max(0, -(ref.current?.getBoundingClientRect().top ?? 0));
      setSeen({ top, screen: innerHeight });
    };
    const soon = () => { frame ||= requestAnimationFrame(look); };
    look();
    addEventListener('scroll', soon, { passive: true });
    addEventListener('resize', soon);
    return () => {
      cancelAnimationFrame(frame);
      removeEventListener('scroll', soon);
      removeEventListener('resize', soon);
    };
  }, []);
  return { ref, window: rowWindow(count, rowHeight, seen.top, seen.screen) };
}

const kRowHeight = 58;
const Space = ({ height }: { height: number }) => (height > 0 ? <tr class="space" aria-hidden="true"><td style={{ height: `${height}px` }} /></tr> : null);

function Table({ rows }: { rows: PartRow[] }) {
  const { ref, window } = useRowWindow(rows.length, kRowHeight);
  return (
    <table ref={ref} class="catalogue" aria-rowcount={rows.length + 1} onKeyDown={walkRows}>
      <thead>
        <tr>
          <th scope="col">{t.number}</th><th scope="col">{t.name}</th><th scope="col" class="num">{t.price}</th>
          <th scope="col" class="num extra">{t.mass}</th><th scope="col">{t.facts}</th><th scope="col" class="num stock">{t.shelf}</th>
          <th scope="col" class="num extra">{t.putBy}</th><th scope="col" class="num extra">{t.underWay}</th>
        </tr>
      </thead>
      <tbody>
        <Space height={window.before} />
        {rows.slice(window.first, window.last).map((row, i) => <Row key={row.part.id} row={row} at={window.first + i} />)}
        <Space height={window.after} />
      </tbody>
    </table>
  );
}

function Catalogue({ view }: { view: PartsView }) {
  const { kinds } = useShop();
  const [filter, setFilter] = useState<PartFilter>({ words: '', kind: '', unknownOnly: false });
  const sought = useMemo(() => soughtParts(view.parts), [view]);
  const rows = useMemo(() => partsThatMatch(sought, filter), [sought, filter]);
  const present = useMemo(() => new Set(view.parts.map((row) => row.part.kind)), [view]);
  if (view.parts.length === 0) return <p>{t.none}</p>;
  return (
    <>
      <div class="narrow">
        <label>
          <span>{t.filter}</span>
          <input type="text" value={filter.words} autocomplete="off" onInput={(event) => setFilter({ ...filter, words: event.currentTarget.value })} />
        </label>
        <label>
          <span>{t.kind}</span>
          <select value={filter.kind} onChange={(event) => setFilter({ ...filter, kind: event.currentTarget.value })}>
            <option value="">{t.every}</option>
            {kinds.filter((kind) => present.has(kind.id)).map((kind) => <option key={kind.id} value={kind.id}>{kind.name}</option>)}
          </select>
        </label>
        <TickField label={t.openOnly} value={filter.unknownOnly} onValue={(unknownOnly) => setFilter({ ...filter, unknownOnly })} />
      </div>
      <p class="count" role="status">{rows.length ? t.shown(rows.length, view.parts.length) : t.noMatch}</p>
      {rows.length > 0 && <Table rows={rows} />}
    </>
  );
}

export function PartsPage() {
  const answered = useAnswer('parts', ask.parts);
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span class="ways"><a href="/arrivals">{goods.title}</a> <a href="/parts/take-in">{lists.title}</a> <a href="/parts/to-measure">{t.toMeasure}</a> <a href="/parts/small-stock">{stock.title}</a> <a class="do" href="/parts/buy">{t.buy}</a></span></div>
      <Body answered={answered}>
        {(view) => (
          <>
            {view.purchases.length > 0 && (
              <details class="under-way">
                <summary>{t.purchases} <span class="num">{view.purchases.length}</span></summary>
                <Purchases purchases={view.purchases} />
              </details>
            )}
            <Catalogue view={view} />
          </>
        )}
      </Body>
    </div>
  );
}
