/** Words of an order that was placed with a supplier. */
export const placing = {
  ordered: 'It is ordered', from: (name: string) => `from ${name}`, form: (name: string) => `Ordered from ${name}`,
  how: 'Write down what was really ordered. 0 leaves a line out; it stays on the list.',
  pieces: 'pieces', confirmed: 'Day that the supplier named', confirmedHow: 'if any',
  save: 'Write it down', leave: 'Not yet',
  giveUp: 'Give the line up', giveUpLead: 'It is not wanted any more and the supplier agreed. Orders that wait for it will find it on the buying list again.',
  giveUpNote: 'Why, may be empty',
};
