/**
 * The shop's clock as its server last told it. A tablet's own clock may go wrong by days; how long
 * ago something was done it knows well.
 */
let ahead: number | undefined;  // milliseconds by which the server's clock is ahead of ours

export function hearClock(date: string | null, now = Date.now()): undefined {
  const moment = date === null ? Number.NaN : Date.parse(date);
  if (!Number.isNaN(moment)) ahead = moment - now;
}

/** This moment by the shop's clock, as ISO text; empty while its server never told the time. */
export const momentNow = (now = Date.now()) =>
  ahead === undefined ? '' : `${new Date(now + ahead).toISOString().slice(0, 19)}Z`;
