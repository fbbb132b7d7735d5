import { count } from './count';

/** Words of the labels; what stands on them comes from the server. */
export const labelWords = {
  title: 'Labels', link: 'Labels', bin: 'Label for its bin',
  lead: 'Codes for a scanner and words for people, on A4 sheets or from a roll.',
  whose: 'What to label', orders: 'Orders', parts: 'Bins of parts', people: 'People and tools', tools: 'every tool',
  narrow: 'Narrow by number or rider', noMatch: 'No open order matches.',
  order: 'the order', kit: 'its kit', wheel: 'each wheel', forEach: 'For each of these orders',
  rider: 'with the rider’s first name and initial', riderHint: 'Without it labels of orders name nobody.',
  partNumbers: 'Numbers of parts', partHint: 'Parted by commas, as in HB-0412, RM-0007.',
  shelf: 'every part on the shelf',
  sheet: 'Sheet or roll', from: 'First free label',
  fromHint: 'A half-used sheet is used up: name the label, or touch it on the picture.',
  notNumber: (text: string, most: number) => `“${text}” is none of the labels 1 to ${most}.`,
  nothing: 'Nothing is chosen yet: this is the empty sheet.',
  pdf: 'Open to print (PDF)',
  howToPrint: 'Print at full size (100 %), not fitted to the page. Lay the first print over a label sheet before using one up.',
  page: (page: number, pages: number) => `Sheet ${page} of ${pages}`,
  label: (position: number) => `Label ${position}`,
  begin: (position: number) => `Begin at label ${position}`,
  picture: (numbers: string[]) =>
    (numbers.length === 0 ? 'An empty sheet of labels, to scale.' : `Labels to scale: ${numbers.join(', ')}.`),
  more: (n: number) => `${count(n, 'further page is', 'further pages are')} in the PDF.`,
  shortened: (numbers: string[]) =>
    `Not all words go onto ${count(numbers.length, 'label', 'labels')}: ${numbers.join(', ')}. There they end in “…”.`,
  near: (n: number, all: number) =>
    (n === all ? 'On labels of this size the large figures are too small to be read at 1.5 m.'
      : `On ${n} of ${all} labels the large figures are too small to be read at 1.5 m.`),
  scale: 'In full size, or smaller where the screen is narrow.',
  list: 'What the codes say',
};
