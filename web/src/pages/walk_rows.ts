/** Arrow keys walk from the first link of one row of a table to that of the next; Home and End too. */
export function walkRows(event: KeyboardEvent) {
  const table = event.currentTarget as HTMLElement;
  const links = [...table.querySelectorAll<HTMLElement>('tbody tr th a')];
  const row = (event.target as HTMLElement).closest('tr');
  const now = links.findIndex((link) => link.closest('tr') === row);
  const to = { ArrowDown: now + 1, ArrowUp: now - 1, Home: 0, End: links.length - 1 }[event.key];
  if (to === undefined || !links[to]) return;
  event.preventDefault();
  links[to]?.focus();
}
