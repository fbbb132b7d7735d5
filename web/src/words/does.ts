/** Sentences of what an order's bike does, and of bench aids that an order fills. */
const endsInWords: Record<string, string> = { front: 'front', rear: 'rear' };

export const does = {
  title: 'What this bike does', notKnown: 'not known yet', toKnow: 'To be known first',
  home: 'Will it come home?', homeWaits: 'Riding the way two thousand times …',
  homeOdds: 'rides end at home with charge left.', homeAll: 'All of it, with another rider or another day',
  grounds: 'What this rests on beside the order',
  groundsPrinted: 'Usual values stand where the order says nothing.',
  groundsLead: 'Where the order says nothing a usual value stands. Each figure leads to where it can be changed.',
  joint: 'Which joint', chooseJoint: 'choose the joint',
  withPresets: (n: number) => `Not of this bike yet: presets stand where ${n === 1 ? 'a fact is' : `${n} facts are`} not known. The fields say which.`,
  reckoned: 'Reckon it for this bike',
  forOrder: 'For order', noOrder: 'The same without an order',
  preset: 'A preset: nothing of this bike.',
  typed: 'Typed here.',
  typedOver: (origin: string) => `Typed here, instead of what the order gives: ${origin}.`,
  asOrder: 'as the order', open: (question: string) => `Not known: ${question}.`,
  asOrderAll: 'All as the order', anotherFile: 'Another file',
  ends: 'Which end', end: (end: string) => endsInWords[end] ?? end,
};
