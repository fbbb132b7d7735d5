import type { PartRow } from '../ask/ask';

export interface PartFilter {
  words: string;
  kind: string;       // empty: every kind
  unknownOnly: boolean;
}

/** A row with its words in small letters, made once so that typing stays quick for thousands. */
export interface SoughtPart {
  row: PartRow;
  text: string;
}

export function soughtParts(rows: PartRow[]): SoughtPart[] {
  return rows.map((row) => ({
    row, text: `${row.part.id} ${row.part.name} ${row.part.maker} ${row.kind_name}`.toLowerCase(),
  }));
}

export function partsThatMatch(parts: SoughtPart[], filter: PartFilter): PartRow[] {
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  return parts
    .filter(({ row, text }) =>
      (!filter.kind || row.part.kind === filter.kind) &&
      (!filter.unknownOnly || row.not_known > 0) &&
      words.every((word) => text.includes(word)))
    .map(({ row }) => row);
}

export interface RowWindow {
  first: number;   // index of the first row that is drawn
  last: number;    // one past the last
  before: number;  // pixels of rows that are left out above
  after: number;
}

/** Rows worth drawing when `top` pixels of the list are above the screen of height `screen`. */
export function rowWindow(count: number, rowHeight: number, top: number, screen: number): RowWindow {
  const spare = 8;
  const first = Math.max(0, Math.min(count, Math.floor(top / rowHeight) - spare));
  const last = Math.min(count, Math.ceil((top + screen) / rowHeight) + spare);
  return { first, last: Math.max(first, last), before: first * rowHeight, after: Math.max(0, count - Math.max(first, last)) * rowHeight };
}
