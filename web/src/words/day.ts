/** Days and times as a person reads them: the month is always a word. */

const kMonths = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August',
  'September', 'October', 'November', 'December'];
const kWeekdays = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const kMsPerDay = 86_400_000;

/** Whole days since 1970-01-01 of "2026-12-18"; NaN when it is no day. */
export function dayNumber(day: string): number {
  return Math.floor(Date.parse(`${day.slice(0, 10)}T00:00:00Z`) / kMsPerDay);
}

function pieces(day: string) {
  const date = new Date(`${day.slice(0, 10)}T00:00:00Z`);
  return {
    weekday: kWeekdays[date.getUTCDay()] ?? '',
    date: date.getUTCDate(),
    month: kMonths[date.getUTCMonth()] ?? '',
    year: date.getUTCFullYear(),
  };
}

/** "Thursday 17 December" */
export function dayInWords(day: string): string {
  const p = pieces(day);
  return `${p.weekday} ${p.date} ${p.month}`;
}

/** "17 December 2026" */
export function dayWithYear(day: string): string {
  const p = pieces(day);
  return `${p.date} ${p.month} ${p.year}`;
}

/** "March 2026" of "2026-03" */
export function monthWithYear(month: string): string {
  const p = pieces(`${month}-01`);
  return `${p.month} ${p.year}`;
}

/** "17 Dec"; the no-break space keeps it on one line. */
export function dayShort(day: string): string {
  const p = pieces(day);
  return `${p.date}\u00a0${p.month.slice(0, 3)}`;
}

/** "Thu" */
export function weekdayShort(day: string): string {
  return pieces(day).weekday.slice(0, 3);
}

/** "08:30" of "2026-11-25T08:30" */
export function clockOf(local: string): string {
  return local.slice(11, 16);
}

/** "Thursday 17 December, 08:30" of "2026-12-17T08:30" */
export function momentInWords(local: string): string {
  return `${dayInWords(local)}, ${clockOf(local)}`;
}

const two = (n: number) => String(n).padStart(2, '0');

/** "25 Nov 2026, 08:45" of a moment in UTC, by the clock of where it is read; empty of an empty one. */
export function momentHere(utc: string): string {
  const at = new Date(utc);
  if (Number.isNaN(at.getTime())) return '';
  return `${at.getDate()}\u00a0${(kMonths[at.getMonth()] ?? '').slice(0, 3)}\u00a0${at.getFullYear()}, ${clockHere(utc)}`;
}

/** "08:45" of a moment in UTC, by the clock of where it is read; empty of an empty one. */
export function clockHere(utc: string): string {
  const at = new Date(utc);
  return Number.isNaN(at.getTime()) ? '' : `${two(at.getHours())}:${two(at.getMinutes())}`;
}
