import type { LabelSheetView, LabelsView } from '../ask/ask';
import { labelWords as t } from '../words/labels';

/** More would only be scrolled past; the PDF has them all. */
const kMostShown = 12;

/** Where a label lies on its page, in hundredths of the page. */
export function placeOf(sheet: LabelSheetView, position: number) {
  const column = (position - 1) % sheet.columns;
  const row = Math.floor((position - 1) / sheet.columns);
  const across = (mm: number) => `${(100 * mm) / sheet.page_width_mm}%`;
  const down = (mm: number) => `${(100 * mm) / sheet.page_height_mm}%`;
  return {
    left: across(sheet.left_mm + column * (sheet.label_width_mm + sheet.gap_across_mm)),
    top: down(sheet.top_mm + row * (sheet.label_height_mm + sheet.gap_down_mm)),
    width: across(sheet.label_width_mm), height: down(sheet.label_height_mm),
  };
}

/** A button over each label of the first page: a half-used sheet begins at the one that is touched. */
function Positions({ sheet, from, onFrom }: { sheet: LabelSheetView; from: number; onFrom: (from: number) => void }) {
  const all = sheet.columns * sheet.rows;
  if (all === 1) return null;
  return (
    <div class="label-positions" role="group" aria-label={t.from}>
      {Array.from({ length: all }, (_, i) => i + 1).map((position) => (
        <button key={position} type="button" style={placeOf(sheet, position)} aria-label={t.begin(position)}
          aria-pressed={position === from} title={t.begin(position)} onClick={() => onFrom(position)} />
      ))}
    </div>
  );
}

/** Each page as the server draws it, in full size where there is room. */
export function LabelPages({ view, query, onFrom }: { view: LabelsView; query: string; onFrom: (from: number) => void }) {
  const sheet = view.sheets.find((one) => one.id === view.sheet);
  if (!sheet) return null;
  const pages = Math.max(1, view.pages);
  const shown = Math.min(pages, kMostShown);
  const numbers = (page: number) =>
    view.labels.filter((label) => label.page === page).map((label) => `${label.what} ${label.number}`);
  return (
    <section class="label-pages" aria-label={t.sheet}>
      <p class="quiet">{t.scale}</p>
      {Array.from({ length: shown }, (_, i) => i + 1).map((page) => (
        <figure key={page} style={{ width: `${sheet.page_width_mm}mm` }}>
          {pages > 1 && <figcaption class="quiet">{t.page(page, pages)}</figcaption>}
          <div class="label-page">
            <img src={`/api/labels.svg?${query}&page=${page}`} alt={t.picture(numbers(page))} loading="lazy"
              style={{ aspectRatio: `${sheet.page_width_mm} / ${sheet.page_height_mm}` }} />
            {page === 1 && <Positions sheet={sheet} from={view.from} onFrom={onFrom} />}
          </div>
        </figure>
      ))}
      {pages > shown && <p>{t.more(pages - shown)}</p>}
    </section>
  );
}
