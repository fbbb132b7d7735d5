import type { NamedView } from '../ask/ask';

const kMostDigits = 8;

/** The PIN with one more key typed; what is no digit changes nothing. */
export const pinWith = (pin: string, key: string) =>
  (/^[0-9]$/.test(key) && pin.length < kMostDigits ? pin + key : pin);

/** The person whose label was scanned: it says the id, in capitals or not, perhaps after "person:". */
export function personOnLabel(line: string, names: NamedView[]): NamedView | undefined {
  const said = line.trim().toLowerCase().replace(/^person:/, '');
  return names.find((person) => person.id.toLowerCase() === said);
}
