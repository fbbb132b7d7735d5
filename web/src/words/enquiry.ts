import type { OrderView } from '../ask/ask';
import { money } from './amount';
import { dayInWords } from './day';

type Budget = NonNullable<OrderView['budget']>;

/** Words of what an enquiry is kept with: budget and follow-up. */
export const enquiryWords = {
  title: 'Budget and follow-up',
  notAsked: 'Nobody wrote down what the customer means to spend.',
  nothingSaid: 'The customer was asked what they mean to spend, and nothing was said.',
  means: (most: string, price: string, place: string) =>
    `The customer means to spend ${most} at most. The price is ${price}: ${place}.`,
  within: 'within it', over: (sum: string) => `over it by ${sum}`,
  changeBudget: 'Write down the budget', budget: 'Budget, at most',
  nothing: 'Asked, and nothing was said', save: 'Write it down',
  either: 'Either an amount was said, or nothing.',
  none: 'No day is set to come back to the customer.',
  due: (day: string, about: string) => `Was to be followed up on ${dayInWords(day)}: ${about}`,
  ahead: (day: string, about: string) => `To be followed up on ${dayInWords(day)}: ${about}`,
  setDay: 'Set a day', otherDay: 'Set another day', day: 'To be followed up on',
  about: 'Who calls whom about what', set: 'Set the day',
  done: 'It is done', came: 'What came of it', writeDone: 'Write down that it is done',
};

/** "2 500 €, within it", "nothing said". */
export function budgetInShort(budget: Budget, currency: string): string {
  const { at_most_cents: most, over_cents: over } = budget;
  if (most === null) return 'nothing said';
  return `${money(most, currency, false)}, ${placeOf(over ?? 0, currency)}`;
}

export const placeOf = (over: number, currency: string): string =>
  (over > 0 ? enquiryWords.over(money(over, currency, true)) : enquiryWords.within);
