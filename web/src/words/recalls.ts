import { dayWithYear } from './day';

/** Words of parts that are called back. */
export const recallWords = {
  title: 'Recalls', back: 'All recalls', link: 'Recalls', trace: 'Find by lot or number', history: 'History', care: 'Its visit for it',
  lead: 'Parts that were called back: which bikes they are on, who was told, what is fixed. A live order that one touches is on stop-sale.',
  one: (number: string) => `Recall ${number}`,
  danger: 'Danger', closed: (day: string) => `closed ${dayWithYear(day)}`,
  opened: (day: string, who: string) => `Opened ${dayWithYear(day)} by ${who}`,
  notice: 'Notice', written: 'Written down', wrong: 'What is wrong', remedy: 'Remedy', noRemedy: 'not known yet', ranges: 'Pieces', every: 'every piece',
  dangerRule: 'Tell each rider within a day, on three channels if need be, and write each attempt down (common practice). Ask what the law wants reported, and to whom.',
  held: (count: number) => (count === 1 ? 'One order on stop-sale' : `${count} orders on stop-sale`),
  pdf: 'List to print (PDF)', csv: 'List as a table (CSV)',
  riders: 'Bikes that were handed over', orders: 'Bikes still here', stock: 'In the shop', none: 'None.',
  columns: { bike: 'Bike', rider: 'Rider and contact', part: 'Part', marks: 'Number, lot', certainty: 'Sure?', status: 'Told', deed: 'Write down' },
  noContact: 'no contact written down', notWritten: 'not written down', notBound: 'chosen, not in its record', stopSale: 'Stop-sale',
  step: (status: string, day: string, who: string, rest: string[]) => [`${status}, ${dayWithYear(day)}, ${who}`, ...rest.filter(Boolean)].join(', '),
  tell: 'Write down what was done', tellBike: (order: string) => `Bike ${order}`,
  status: 'What came of it', channel: 'Channel', channelHint: 'telephone, letter, mail', note: 'Note', who: 'Who', save: 'Write down', cancel: 'Leave',
  close: 'Close this recall', closeWhy: 'Why, while something is open', closeDo: 'Close',
  open: 'Write a notice down', openLead: 'Name one part, or a kind and its maker. Ranges left empty leave nothing out.',
  part: 'Part’s number', kind: 'or kind', kindHint: 'as in K-ST', maker: 'and maker',
  lotFrom: 'Lot from', lotTo: 'Lot to', serialFrom: 'Number from', serialTo: 'Number to', dayFrom: 'Came from', dayTo: 'Came until',
  isDanger: 'Somebody may be hurt', openDo: 'Write down and stop the sale', person: 'Written down by',
};
