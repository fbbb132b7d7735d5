/**
 * The shop's clock as its server last told it. A tablet's own clock may go wrong by days; how long
 * ago something was done it knows well. Kept in the browser, for pages loaded without the server.
 */
const kKey = 'rollwright.clock';
const kWorthNoting = 2000;  // milliseconds

let ahead: number | undefined;  // milliseconds by which the server's clock is ahead of ours

function kept(): number | undefined {
  try {
    const text = localStorage.getItem(kKey);
    const value = text === null ? Number.NaN : Number(text);
    return Number.isFinite(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

function keep(value: number) {
  try {
    localStorage.setItem(kKey, String(value));
  } catch {
    // It holds until the page is left.
  }
}

export function hearClock(date: string | null, now = Date.now()): void {
  const moment = date === null ? Number.NaN : Date.parse(date);
  if (Number.isNaN(moment)) return;
  if (ahead === undefined || Math.abs(moment - now - ahead) > kWorthNoting) keep(moment - now);
  ahead = moment - now;
}

/** This moment by the shop's clock, as ISO text; empty while its server never told the time. */
export function momentNow(now = Date.now()): string {
  ahead ??= kept();
  return ahead === undefined ? '' : `${new Date(now + ahead).toISOString().slice(0, 19)}Z`;
}
