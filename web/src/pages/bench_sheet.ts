import { ask } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';

/** The bench sheet of an order, as it is printed. */
export function useSheet(id: string) {
  return useAnswer(`sheet ${id}`, () => ask.sheet(id), concernsOrder(id));
}
