/** States of orders on which nobody works any more. */
const kOver = new Set(['Handed over', 'In care', 'Closed', 'Cancelled']);

export const isOver = (state: string) => kOver.has(state);

/** Those that are worked on before those that are over; else as they were. */
export function liveFirst<T extends { state: string }>(orders: T[]): T[] {
  return [...orders.filter((order) => !isOver(order.state)), ...orders.filter((order) => isOver(order.state))];
}
