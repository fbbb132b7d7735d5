import type { ArrivalLine, Received } from '../ask/ask';

/** Whether every word stands somewhere in the line's number, part, supplier or orders. */
export function lineMatches(line: ArrivalLine, words: string): boolean {
  const held = [line.id, line.part, line.name, line.supplier_name, ...line.orders].join(' ').toLowerCase();
  return words.toLowerCase().split(/\s+/).every((word) => held.includes(word));
}

/** Counts of a delivery as a person enters them. */
export interface Counts {
  quantity: number;
  to_look_at: number;
  wrong: number;
  damaged: number;
  hidden: number;
  missing: number;
}

export const kBad = ['wrong', 'damaged', 'hidden', 'to_look_at'] as const;

/** Pieces that would go to the shelf; the server judges the rest. */
export const goodOf = (counts: Counts) =>
  Math.max(0, counts.quantity - counts.wrong - counts.damaged - counts.hidden - counts.to_look_at);

/** Numbers as a scanner or a person types them, one to a line. */
export const serialsOf = (text: string) => text.split(/\s+/).filter(Boolean);

export function receivedOf(counts: Counts, typed: { serials: string; lot: string; carrier: string; note: string }): Received {
  return {
    ...counts, serials: serialsOf(typed.serials), lot: typed.lot.trim(), carrier: typed.carrier, note: typed.note.trim(),
  };
}
