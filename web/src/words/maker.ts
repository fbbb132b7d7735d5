import { dayWithYear } from './day';

/** Words of bikes that a maker builds. */
export const makerWords = {
  title: (order: string) => `Order ${order} at its maker`, back: 'The order', link: 'Maker: form, lists, differences',
  form: 'Order form', to: (maker: string, version: number) => `To ${maker}, of specification version ${version}.`,
  sent: (number: number, day: string, who: string) => `Form ${number} was sent on ${dayWithYear(day)} by ${who}.`,
  wanted: (day: string) => `Wanted here on ${dayWithYear(day)}.`, notSent: 'It was not sent yet: what is printed is a draft.',
  old: 'Another version is signed by now: send the form anew.',
  a4: 'Print (PDF, A4)', letter: 'Print (PDF, US Letter)', csv: 'As a table (CSV)',
  send: 'Write down that it was sent', sendDo: 'It was sent', wantedDay: 'Day on which the bike is wanted here', how: 'How', howHint: 'mail, letter, the maker’s own page',
  who: 'Who', papers: 'What comes with the bike',
  take: 'Take in a list of the maker', kind: 'What the list says', kinds: { 'confirmed': 'what will be built (confirmed)', 'as built': 'what was built (as built)' } as Record<string, string>,
  file: 'The list as CSV', fileHint: 'position, quantity, and part or article; options, serial, note. The form as CSV can be filled in.', typed: 'or typed in', typedHint: 'one line each: position, part or article, pieces, options, serial number; parted by commas',
  fromForm: 'Start from the form', reference: 'The maker’s number of it', takeDo: 'Take the list in',
  table: 'Line by line', columns: { position: 'Position', ordered: 'Ordered', confirmed: 'Confirmed', built: 'As built' },
  onlyOther: 'Only what differs', none: 'no list yet', allSame: 'Nothing differs.',
  differences: 'Differences to answer', stopsIt: 'Cannot be accepted', warns: 'The rules say beside that', mass: 'Mass of the bike', price: 'Parts by the catalogue',
  newVersion: 'Accepting changes what is chosen; the customer signs it as a new version.', byWords: 'Accepting is written down with the name of who agreed for the customer.',
  answer: 'Answer', accept: 'Accept', deny: 'Deny: the maker puts it right', why: 'Why, and what the customer was told', agreed: 'Who agreed for the customer', priceChange: 'Change of the bike’s price to the customer', answerDo: 'Write the answer down',
  pick: (sentence: string) => `Answer: ${sentence}`, nothingPicked: 'Tick the differences that this answers.',
  lists: 'Lists of the maker', list: (kind: string, number: number, day: string, who: string) => `${kind} ${number}, ${dayWithYear(day)}, ${who}`, counts: 'counts', isTyped: 'typed in',
  said: 'What was answered', saidOne: (answer: string, day: string, who: string) => `${answer} on ${dayWithYear(day)} by ${who}`,
  agreedBy: (name: string) => `${name} agreed for the customer`,
};
