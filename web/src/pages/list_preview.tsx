import { useState } from 'preact/hooks';
import type { ListRowView, PreviewView } from '../ask/ask';
import { partPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { fateMark } from '../marks/shape_of';
import { dayInWords } from '../words/day';
import { lists as t } from '../words/lists';
import { pageOf, type RowFilter, rowsThatMatch } from './list_flow';

function Fate({ word }: { word: string }) {
  const mark = fateMark(word);
  return <span class={`marked ${mark.tone}`}><Mark {...mark} /><span class="word">{t.counts[word] ?? t.against}</span></span>;
}

interface TakeOver {
  taken: string[];
  onTaken: (taken: string[]) => void;
}

/** What one row would do: changes from and to, what speaks against it, and what is wrong. */
function Doing({ row, taken, onTaken }: { row: ListRowView } & TakeOver) {
  return (
    <ul class="doing">
      {row.problems.map((problem) => (
        <li key={problem.field + problem.sentence} class="stop"><b>{t.inColumn(problem.field)}</b>{problem.value && <> “{problem.value}”</>}: {problem.sentence}</li>
      ))}
      {row.changes.map((change) => (
        <li key={change.what}>{change.what} {change.from && <><s class="quiet">{change.from}</s>{' '}</>}<b>{change.to || t.none}</b></li>
      ))}
      {row.contradictions.map((each) => {
        const name = `${row.part} ${each.attribute}`;
        const given = taken.includes(name);
        return (
          <li key={each.attribute} class="against">
            <span class="care"><Mark shape="triangle" tone="care" /> {each.name}: {t.measured(each.measured, each.by, dayInWords(each.date))}; {t.says(each.listed)}</span>
            <label class="tick"><input type="checkbox" checked={given}
              onChange={() => onTaken(given ? taken.filter((one) => one !== name) : [...taken, name])} /> {t.takeOver}</label>
          </li>
        );
      })}
      {row.notes.map((note) => <li key={note} class="quiet">{note}</li>)}
    </ul>
  );
}

function Rows({ rows, ...over }: { rows: ListRowView[] } & TakeOver) {
  return (
    <table class="list-rows">
      <thead>
        <tr><th scope="col" class="num">{t.row}</th><th scope="col">{t.what}</th><th scope="col">{t.article}</th><th scope="col">{t.would}</th></tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.line}>
            <td class="num">{row.line}</td>
            <td><Fate word={row.fate} /></td>
            <th scope="row">
              <span class="number">{row.article}</span>
              <span class="quiet">{row.name}</span>
              {row.part && row.fate !== 'refused' && (row.fate === 'new' ? <span class="small">{row.part}</span> : <a href={partPath(row.part)}>{row.part}</a>)}
            </th>
            <td><Doing row={row} {...over} /></td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Narrow({ preview, filter, onFilter }: { preview: PreviewView; filter: RowFilter; onFilter: (filter: RowFilter) => void }) {
  const sorts: [RowFilter, number][] = [
    ['', preview.rows.length], ['new', preview.counts.new ?? 0], ['changed', preview.counts.changed ?? 0],
    ['same', preview.counts.same ?? 0], ['refused', preview.counts.refused ?? 0], ['against', preview.contradictions],
  ];
  return (
    <div class="list-counts" role="group" aria-label={t.filter}>
      {sorts.map(([sort, n]) => (
        <button key={sort} type="button" aria-pressed={filter === sort} onClick={() => onFilter(sort)}>
          <span class="count-number">{n}</span> {sort === '' ? t.every : <Fate word={sort} />}
        </button>
      ))}
    </div>
  );
}

function download(preview: PreviewView) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([preview.refused_rows], { type: 'text/csv;charset=utf-8' }));
  link.download = t.downloadName(preview.file);
  link.click();
  URL.revokeObjectURL(link.href);
}

export function ListPreview({ preview, ...over }: { preview: PreviewView } & TakeOver) {
  const [filter, setFilter] = useState<RowFilter>('');
  const [at, setAt] = useState(0);
  const matching = rowsThatMatch(preview.rows, filter);
  const { rows, page, pages, first } = pageOf(matching, at);
  if (preview.problems.length > 0) {
    return (
      <div class="refused" role="alert">
        <p><Mark shape="cross" tone="stop" /> {t.wholeList}:</p>
        <ul>{preview.problems.map((problem) => <li key={problem.field + problem.sentence}><b>{t.inColumn(problem.field)}</b>: {problem.sentence}</li>)}</ul>
      </div>
    );
  }
  return (
    <>
      <p class="lead" role="status">{preview.sentence}</p>
      <Narrow preview={preview} filter={filter} onFilter={(next) => { setFilter(next); setAt(0); }} />
      {preview.left_out.length > 0 && <p class="quiet">{t.columnsLeftOut(preview.left_out.join(', '))}</p>}
      {preview.refused_rows && <p><button type="button" class="plain" onClick={() => download(preview)}>{t.download}</button></p>}
      {rows.length === 0 ? <p>{t.noRows}</p> : <Rows rows={rows} {...over} />}
      {pages > 1 && (
        <nav class="list-pages" aria-label={t.preview}>
          <button type="button" class="plain" disabled={page === 0} onClick={() => setAt(page - 1)}>{t.previous}</button>
          <span role="status">{t.rows(first + 1, first + rows.length, matching.length)}</span>
          <button type="button" class="plain" disabled={page === pages - 1} onClick={() => setAt(page + 1)}>{t.next}</button>
        </nav>
      )}
    </>
  );
}
