import { plain } from './amount';
import { count } from './count';

/** Words of the times taken. */
export const minutesWords = {
  title: 'Times taken',
  lead: 'How long each operation takes here: as the trade states it, and with what was taken at the bench. Plans and promises reckon with the second.',
  operation: 'Operation', where: 'Where', stated: 'Stated', learned: 'Learned', usual: 'Usual', times: 'Taken',
  range: (low: number, high: number) => `${plain(low)} to ${plain(high)}\u00a0min`,
  usually: (median: number) => `${plain(median)}\u00a0min`,
  taken: (n: number) => (n === 0 ? 'never' : count(n, 'time', 'times')),
  astray: (n: number) => `${count(n, 'is', 'are')} so far off that ${n === 1 ? 'it counts' : 'they count'} less`,
  how: 'Eight in ten lie between the two numbers of a range.',
};
