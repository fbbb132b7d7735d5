import type { CatalogueView, ColumnMapping, ColumnView, ListRowView, SheetColumn } from '../ask/ask';

/** Pure steps of the page on which a supplier's list is taken in. */

export const kRowsOnAPage = 100;

/** What a column goes to at the moment; a column that the mapping does not name is left out. */
export function columnOf(mapping: ColumnMapping, heading: string): SheetColumn {
  return mapping.columns.find((column) => column.heading === heading) ?? { heading, goes_to: '' };
}

function withColumn(mapping: ColumnMapping, column: SheetColumn): ColumnMapping {
  const others = mapping.columns.filter((each) => each.heading !== column.heading);
  return { ...mapping, columns: column.goes_to ? [...others, column] : others };
}

/** Sends a column elsewhere; unit and words belong to the old target, unless it was proposed so. */
export function sendColumn(mapping: ColumnMapping, seen: ColumnView, target: string): ColumnMapping {
  const fresh = seen.proposal.goes_to === target ? seen.proposal : { heading: seen.heading, goes_to: target };
  return withColumn(mapping, fresh);
}

export function changeColumn(mapping: ColumnMapping, heading: string, change: Partial<SheetColumn>): ColumnMapping {
  return withColumn(mapping, { ...columnOf(mapping, heading), ...change });
}

/** Our word for one of the list's; an empty one takes the list's own. */
export function translate(mapping: ColumnMapping, heading: string, theirs: string, ours: string): ColumnMapping {
  const words = { ...columnOf(mapping, heading).words };
  if (ours) words[theirs] = ours;
  else delete words[theirs];
  return changeColumn(mapping, heading, { words });
}

/** Words that a column of this target may be translated into; undefined where numbers or free text stand. */
export function wordsFor(catalogue: CatalogueView, target: string): [string, string][] | undefined {
  if (target === 'kind') return catalogue.kinds.map((kind) => [kind.id, kind.name]);
  if (target === 'availability') return catalogue.availability.map((word) => [word, word]);
  const attribute = catalogue.attributes.find((each) => each.id === target);
  if (!attribute || attribute.type === 'number') return undefined;
  const words = attribute.type === 'flag' ? ['yes', 'no'] : attribute.choices;
  return words.length ? words.map((word) => [word, word]) : undefined;
}

/** Attributes that may be chosen: of the one kind, or of all when a column says the kind. */
export function attributesFor(catalogue: CatalogueView, mapping: ColumnMapping): CatalogueView['attributes'] {
  const saysKind = mapping.columns.some((column) => column.goes_to === 'kind');
  const kind = catalogue.kinds.find((each) => each.id === mapping.kind);
  if (saysKind || !kind) return catalogue.attributes;
  return catalogue.attributes.filter((attribute) => kind.attributes.includes(attribute.id));
}

export type RowFilter = '' | 'new' | 'changed' | 'same' | 'refused' | 'against';

export function rowsThatMatch(rows: ListRowView[], filter: RowFilter): ListRowView[] {
  if (filter === '') return rows;
  if (filter === 'against') return rows.filter((row) => row.contradictions.length > 0);
  return rows.filter((row) => row.fate === filter);
}

/** The rows of one page, and how many pages there are. */
export function pageOf(rows: ListRowView[], page: number): { rows: ListRowView[]; page: number; pages: number; first: number } {
  const pages = Math.max(1, Math.ceil(rows.length / kRowsOnAPage));
  const at = Math.min(Math.max(0, page), pages - 1);
  const first = at * kRowsOnAPage;
  return { rows: rows.slice(first, first + kRowsOnAPage), page: at, pages, first };
}

/** The text of a file, or the line on which it stops being UTF-8. */
export function textOf(bytes: ArrayBuffer): { text: string } | { badLine: number } {
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    const text = new TextDecoder('utf-8').decode(bytes);
    return { badLine: text.slice(0, text.indexOf('\uFFFD')).split('\n').length };
  }
}
