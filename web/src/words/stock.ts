/** Sentences of small stock: what is used up apart from orders. Reasons come from the server. */
const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

export const stock = {
  title: 'Small stock', part: 'Part', here: 'On the shelf', coming: 'On the way', perWeek: 'Used a week', levels: 'Bought again',
  runsOut: 'Runs out', toBuy: 'To buy', enough: 'enough', noEnd: 'no day can be said', hardly: 'hardly ever',
  ofShelf: (n: number) => `${n} for orders`, ofBoth: (n: number) => `${n} of all for orders`,
  between: (at: number, upTo: number) => `at ${at}, up to ${upTo}`,
  onAsking: (upTo: number) => `when it is asked for, up to ${upTo}`,
  levelsHow: (share: string) => `With these levels a piece lies on the shelf in ${share} of the time. They cost least, of what ordering, keeping and lacking cost.`,
  runOutHow: (next: string) => `How often more is asked for than lies here before the next delivery comes: ${next}.`,
  take: 'Take', takeNow: 'Take from the shelf', takeForm: (name: string) => `Take ${name} from the shelf`,
  pieces: 'Pieces', whatFor: 'What for', repair: 'repair',
  taken: (n: number, name: string, whatFor: string) => `Taken: ${count(n, 'piece', 'pieces')} of ${name}${whatFor ? ` for ${whatFor}` : ''}.`,
  takeAny: 'Take any part from the shelf', partNumber: 'Part number',
  empty: (how: string) => `${how} Write takings down here, and the levels follow by themselves.`,
};
