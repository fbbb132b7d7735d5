import { momentHere } from './day';

/** Words of bikes that come back. */
export const careWords = {
  title: (order: string) => `Care of bike ${order}`, back: 'The order', link: 'Care: visits, what is due', bench: 'To the stand', history: 'History',
  here: 'Here now', since: (who: string, at: string) => `taken in by ${who}, ${momentHere(at)}`, km: (km: number) => `${km} km`, rider: 'The rider says',
  missing: 'Open before it is given back', ready: 'Nothing is open.', askMore: 'Ask for more', askDo: 'Ask for it', why: 'Why',
  give: 'Give it back', giveDo: 'Given back to be ridden', notRide: 'It is not to be ridden', notRideWhy: 'Why, and what its rider was told', notRideDo: 'Given back, not to be ridden',
  notRideHint: 'What is open stays open for the next visit.',
  open: 'The bike comes in', what: 'What for', due: 'due', repair: 'A repair, or something else', repairWord: 'repair', repairHint: 'in the rider’s words; say below what is to be done',
  kmField: 'Km on its display', kmHint: 'leave it out where nothing shows them', note: 'What the rider says', more: 'Operations beside these', moreOf: { care: 'Care', build: 'Building, done again' },
  openDo: 'Write down that it is here', who: 'Who', nothing: 'Tick what it is here for.',
  told: (day: string, said: string) => `Told on ${day}${said ? `: ${said}` : ''}.`, tell: 'The rider was told', tellOf: (order: string) => `The rider of bike ${order} was told`, said: 'What the rider said', tellDo: 'Write it down',
  all: 'Bikes that come back', allLead: 'By the service plan: from weeks, and from the km that bikes showed. A rider who was told is named again after four weeks.',
  allHere: 'Here for a visit', allDue: 'To come back', hereSince: (about: string, day: string) => `${about}, here since ${day}`, nobody: 'No bike should come back in these weeks.', late: 'overdue', noContact: 'no way to reach them',
  window: (from: string, to: string) => (from === to ? to : `${from} to ${to}`),
  past: 'Visits', none: 'No visit is on record.', given: (who: string, at: string) => `given back by ${who}, ${momentHere(at)}`, notRidden: 'not to be ridden',
};
