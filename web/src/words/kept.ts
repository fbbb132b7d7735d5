import { count } from './count';

/** Words of the promises that were kept. */
export const keptWords = {
  title: 'Said and kept',
  lead: 'Every promise with the odds it was made with, and when the bike was ready. Odds are worth something only when they come true as often as they say.',
  chart: 'What was said against what was kept',
  chartAlt: (bands: string[]) => `Promises kept against the chance that was said. ${bands.join('; ')}.`,
  chartHow: 'A mark on the slope: kept as often as said. The upright line is what chance alone would give, nine times in ten, were the odds true.',
  saidAxis: 'said, in 100', keptAxis: 'kept, in 100',
  said: 'Said', promises: 'Promises', kept: 'Kept', ofThem: 'Of them', byChance: 'By chance',
  range: (least: number, most: number) => (least === most ? `${least}` : `${least} to ${most}`),
  fewer: 'fewer than chance explains', more: 'more than chance explains',
  months: 'By month', month: 'Promised for', late: 'Late by', lateDays: (days: number) => `${days.toFixed(1)} days`,
  otherWays: 'Had the shop promised in another way', way: 'Promising', longer: 'Promised later by',
  days: (n: number) => `${n < 0 ? '\u2212' : '+'}${Math.abs(n).toFixed(1)} days`,
  lines: 'Each promise', order: 'Order', saidOn: 'Said on', promised: 'Promised', odds: 'Odds', ready: 'Ready', by: 'Off by',
  onTheDay: 'on the day', sooner: (n: number) => `${count(n, 'day', 'days')} sooner`, later: (n: number) => `${count(n, 'day', 'days')} late`,
  open: (n: number) => `${count(n, 'promise is', 'promises are')} still open.`,
  deliveries: 'Suppliers’ deliveries, replayed',
  deliveriesLead: (n: number) => `${count(n, 'delivery', 'deliveries')} of the last twelve months, each judged by what was known before its month had taught.`,
  hereBy: 'Said to be here by the day of', came: 'Came by then', none: 'Nothing was promised yet.',
  newest: (n: number) => `the newest ${n}`,
};
