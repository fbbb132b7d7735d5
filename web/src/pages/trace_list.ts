import type { TraceQuestion, TraceView } from '../ask/ask';
import { bench } from '../words/bench';

const t = bench.trace;

export const kTraceFields = ['part', 'lot_from', 'lot_to', 'serial_from', 'serial_to'] as const;

/** What an address asks for: fields that are empty are not asked. */
export function traceIn(query: string): TraceQuestion {
  const asked = new URLSearchParams(query);
  const question: TraceQuestion = {};
  for (const field of kTraceFields) {
    const value = (asked.get(field) ?? '').trim();
    if (value) question[field] = value;
  }
  return question;
}

export const tracePath = (question: TraceQuestion) => {
  const query = new URLSearchParams(question as Record<string, string>).toString();
  return query ? `/records/trace?${query}` : '/records/trace';
};

const range = (from: string | undefined, to: string | undefined) =>
  (from && to && from !== to ? `${from} ${t.lotTo} ${to}` : from ?? to ?? '');

/** What was asked for, in words: it stands on the printed list. */
export function askedWords({ part, lot_from, lot_to, serial_from, serial_to }: TraceQuestion): string[] {
  const lot = range(lot_from, lot_to);
  const serial = range(serial_from, serial_to);
  return [part && `${t.columns.part} ${part}`, lot && `${t.columns.lot} ${lot}`, serial && `${t.columns.serial} ${serial}`].filter((words): words is string => Boolean(words));
}

/** A cell of a CSV file: quoted where it must be, and never read as a formula by a spreadsheet. */
function cell(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\n\r]/.test(plain) ? `"${plain.replace(/"/g, '""')}"` : plain;
}

const row = (cells: string[]) => `${cells.map(cell).join(',')}\r\n`;

/** Bikes first, then what lies in the shop, in one table. */
export function traceCsv({ bikes, stock }: TraceView): string {
  const c = t.columns;
  return row([c.certainty, c.order, c.rider, c.contact, c.state, c.slot, c.part, c.name, c.serial, c.lot, c.since, c.off, c.line, c.pieces, c.place]) +
    bikes.map((bike) => row([bike.certainty, bike.order, bike.rider, bike.contact, bike.state, bike.slot, bike.part, bike.name, bike.serial, bike.lot, bike.since, bike.off, '', '', ''])).join('') +
    stock.map((piece) => row(['', '', '', '', '', '', piece.part, piece.name, piece.serial, piece.lot, '', '', piece.line, String(piece.pieces), piece.place])).join('');
}
