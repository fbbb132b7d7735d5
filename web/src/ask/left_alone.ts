/**
 * How long a browser shows without the server what it last heard: as long as the server itself would
 * have let the same person go on (http/sessions.hpp), and never longer.
 */
const kMinute = 60_000;
const kLongest = 12 * 60 * kMinute;
const kIdle: Record<string, number> = { bench: 30 * kMinute, desk: 240 * kMinute };

export interface Standing {
  open: boolean;  // nobody has to sign in
  at: string;     // "desk", "bench"
}

/** `heard` and `touched`: when the server last said who asks, and when somebody last touched the pages. */
export function mayShow(me: Standing, heard: number, touched: number, now: number): boolean {
  const isFresh = (since: number, most: number) => since <= now + kMinute && now - since < most;
  if (!isFresh(heard, kLongest)) return false;
  return me.open || isFresh(touched, kIdle[me.at] ?? 0);
}
