/** Amounts with their units. Numbers come from the server; here they are only written down. */

const kThin = '\u202f';  // narrow no-break space: groups of thousands
const kHard = '\u00a0';  // no-break space: number and unit stay together
const kMinus = '\u2212';
const kSymbols: Record<string, string> = { EUR: '€', USD: '$', GBP: '£' };

/** "12 480.5": groups of three, a point, true minus. */
export function plain(value: number, decimals = 0): string {
  const [whole = '0', rest] = Math.abs(value).toFixed(decimals).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, kThin);
  return (value < 0 ? kMinus : '') + grouped + (rest ? `.${rest}` : '');
}

/** As many decimals as the number has, at most `most`: 28.6, 40, 0.25. */
export function short(value: number, most = 2): string {
  return plain(value, decimalsOf(value, most));
}

function decimalsOf(value: number, most: number): number {
  for (let d = 0; d < most; d += 1) {
    if (Math.abs(value - Number(value.toFixed(d))) < 1e-9) return d;
  }
  return most;
}

export function symbolOf(currency: string): string {
  return kSymbols[currency] ?? currency;
}

/** "1 480 €"; cents are written only where there are some, or where the column has some. */
export function money(cents: number, currency: string, withCents = cents % 100 !== 0): string {
  return `${plain(cents / 100, withCents ? 2 : 0)}${kHard}${symbolOf(currency)}`;
}

/** "+ 260 €", "− 95 €", "same" is left to the caller for 0. */
export function moneyDifference(cents: number, currency: string): string {
  return `${cents < 0 ? kMinus : '+'}${kHard}${money(Math.abs(cents), currency)}`;
}

/** "4.10 kg" */
export function mass(kg: number): string {
  return `${plain(kg, 2)}${kHard}kg`;
}

/** "9.0 lb" (1 lb = 0.45359237 kg exactly) */
export function massUs(kg: number): string {
  return `${plain(kg / 0.45359237, 1)}${kHard}lb`;
}

/** "− 240 g", "+ 1.25 kg" */
export function massDifference(kg: number): string {
  const sign = kg < 0 ? kMinus : '+';
  const size = Math.abs(kg);
  return `${sign}${kHard}${size < 1 ? `${plain(size * 1000)}${kHard}g` : mass(size)}`;
}

/** "61 in 100" */
export function inHundred(share: number): string {
  return `${Math.round(share * 100)}${kHard}in${kHard}100`;
}

/** "11 to 20 min", "1 h 5 min" */
export function minutes(value: number): string {
  const whole = Math.round(value);
  if (whole < 90) return `${whole}${kHard}min`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)}${kHard}h${rest ? `${kHard}${rest}${kHard}min` : ''}`;
}
