import type { LabelsQuestion } from '../ask/ask';

/** What a person has chosen to label. */
export interface LabelWish {
  orders: string[];
  kinds: ('order' | 'kit' | 'wheel')[];
  rider: boolean;
  parts: string[];
  shelf: boolean;
  people: string[];
  tools: boolean;
  sheet: string;
  from: number;
}

export const kOrderKinds = ['order', 'kit', 'wheel'] as const;

export const listed = (text: string) => text.split(/[\s,;]+/).filter(Boolean);

export const withOrWithout = <T>(list: T[], one: T) =>
  list.includes(one) ? list.filter((other) => other !== one) : [...list, one];

/** How it is asked of the server; orders without any of their labels are left out. */
export function questionOf(wish: LabelWish): LabelsQuestion {
  const orders = wish.kinds.length > 0 ? wish.orders : [];
  const kinds: string[] = orders.length > 0 ? [...wish.kinds] : [];
  if (wish.shelf || wish.parts.length > 0) kinds.push('bin');
  if (wish.people.length > 0) kinds.push('person');
  if (wish.tools) kinds.push('tool');
  const query: LabelsQuestion = { sheet: wish.sheet };
  if (kinds.length > 0) query.kinds = kinds.join(',');
  if (orders.length > 0) query.orders = orders.join(',');
  if (wish.parts.length > 0 && !wish.shelf) query.parts = wish.parts.join(',');
  if (wish.people.length > 0) query.people = wish.people.join(',');
  if (wish.from > 1) query.from = wish.from;
  if (wish.rider && orders.length > 0) query.rider = 'yes';
  return query;
}

/** The same after a question mark. */
export function queryText(query: LabelsQuestion): string {
  const text = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) text.set(name, String(value));
  return text.toString();
}
