// What the tests of the wall plan in a browser share: its parts, and hands that move work on it.
export const kAnswer = 20_000;  // milliseconds, with two cores for everybody
export const plan_of = async (server) => (await fetch(`${server.url}/api/plan`)).json();
export const key_of = (bar) => `${bar.order} ${bar.operation}`;
export const bar_at = (page, bar) => page.locator(`.wall [data-key="${key_of(bar)}"]`);
export const slip = (page) => page.locator('.plan-slip');
/** What is told to who does not see the wall. */
export const told = (page, what) => page.locator('p.unseen[role="status"]').filter({ hasText: what })
  .waitFor({ state: 'attached', timeout: kAnswer });
export const button = (page, name) => page.getByRole('button', { name, exact: true });

/** Last work of each bike that has not begun to be frozen: nothing has to follow it. */
export function last_of_bikes(plan) {
  const last = new Map();
  for (const person of plan.people) {
    for (const bar of person.bars) {
      const known = last.get(bar.order);
      if (!known || known.start < bar.start) last.set(bar.order, { ...bar, person: person.id });
    }
  }
  return [...last.values()].filter((bar) => !bar.frozen && !bar.pinned)
    .sort((a, b) => a.start.localeCompare(b.start));
}

/** A first plan is agreed, without the page. */
export async function agree_first(server) {
  const post = async (path, body) => {
    const headers = { 'Content-Type': 'application/json' };
    const reply = await fetch(server.url + path, { method: 'POST', headers, body: JSON.stringify(body) });
    return reply.json();
  };
  const { id } = await post('/api/plan/proposals', { over: 0 });
  return post(`/api/plan/proposals/${id}/agree`, {});
}

export async function open_plan(page) {
  await page.goto('/plan');
  await page.locator('.plan-slip').waitFor();
}

/** Where a bar can be taken: within it, clear of its edges. */
export async function grip_of(page, bar) {
  const mark = bar_at(page, bar).locator('.shape');
  await mark.evaluate((shape) => shape.scrollIntoView({ block: 'center', inline: 'nearest' }));
  const box = await mark.boundingBox();
  return [Math.round(box.x + Math.min(8, box.width / 2)), Math.round(box.y + box.height / 2)];
}

/** Takes a bar where it begins and lets it down so many pixels further; the answer is in the slip. */
export async function drag(page, bar, right) {
  const [x, y] = await grip_of(page, bar);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + right / 2, y, { steps: 3 });
  await page.mouse.move(x + right, y, { steps: 3 });
  await page.locator('.ghost').waitFor();
  await page.mouse.up();
  await answered(page);
}

export const answered = (page) => slip(page).locator('.promise-sentence, .refused').first().waitFor({ timeout: kAnswer });
export const lands = (page) => button(slip(page), 'Keep it').isVisible();
