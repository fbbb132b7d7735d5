/** Sentences of what an order's bike does, and of bench aids that an order fills. */
const endsInWords: Record<string, string> = { front: 'front', rear: 'rear' };

export const does = {
  forOrder: 'For order', noOrder: 'The same without an order',
  preset: 'A preset: nothing of this bike.',
  typed: 'Typed here.',
  typedOver: (origin: string) => `Typed here, instead of what the order gives: ${origin}.`,
  asOrder: 'as the order', open: (question: string) => `Not known: ${question}.`,
  asOrderAll: 'All as the order', anotherFile: 'Another file',
  ends: 'Which end', end: (end: string) => endsInWords[end] ?? end,
};
