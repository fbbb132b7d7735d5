import { plain } from './amount';

const kHard = '\u00a0';
const kRaised = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const kNames: [number, string][] = [[1e9, 'billion'], [1e6, 'million']];

/** At most two digits that count: 41, 2.1, 350. */
const roughly = (value: number) => plain(value, value < 9.95 && value % 1 !== 0 ? 1 : 0);

/** "1 day", "3 days" */
export const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

/** "a", "a and b", "a, b and c" */
export const listed = (words: string[]) =>
  (words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`);

/** "12 480", "41 million", "2.1 billion", "3.2 × 10¹⁵": a whole number given in digits. */
export function countInWords(digits: string): string {
  const value = Number(digits);
  if (value < 1e6) return plain(value);
  if (value < 9.995e11) {
    // What rounds up to a thousand millions is a billion already.
    const [size, name] = kNames.find(([least]) => value >= least * 0.9995) ?? [1e6, 'million'];
    return `${roughly(Math.round((value / size) * 10) / 10)}${kHard}${name}`;
  }
  const [front = '', power = ''] = value.toExponential(1).split('e+');
  const raised = [...power].map((digit) => kRaised[Number(digit)]).join('');
  return `${front}${kHard}×${kHard}10${raised}`;
}
