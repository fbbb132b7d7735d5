import { count } from './count';

/** Words of photographs. */
export const photos = {
  title: 'Photographs', take: 'Take a photograph', sending: 'Being sent …',
  waits: (n: number) => `${count(n, 'photograph waits', 'photographs wait')} for the network.`,
  notKept: (n: number) => `${count(n, 'photograph waits', 'photographs wait')} for the network, and this browser keeps nothing: keep this page open.`,
  ofOthers: (n: number, name: string) => `${count(n, 'photograph waits', 'photographs wait')} until ${name} signs in here.`,
  isOf: { bike: (order: string, about: string) => `Photograph of bike ${order}, ${about}`, goods: (line: string) => `Photograph at ${line}` },
  again: 'Try now', forget: 'Throw it away',
  counted: (n: number) => (n === 0 ? 'no photograph' : count(n, 'photograph', 'photographs')),
  onRecord: (n: number) => (n === 0 ? 'No photograph is on record.' : `${count(n, 'photograph is', 'photographs are')} on record.`),
  who: 'Choose below who moves it; then photographs can be taken here.',
  shown: (who: string, when: string, note: string) => `Photograph by ${who}, ${when}${note ? `: ${note}` : ''}`,
  goods: 'The box before it is opened, from all sides; then whatever is damaged, with its packing.',
};
