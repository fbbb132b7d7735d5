import type { StationPerson } from '../ask/ask';

const kMostDigits = 8;

/** The PIN with one more key typed; what is no digit changes nothing. */
export const pinWith = (pin: string, key: string) =>
  (/^[0-9]$/.test(key) && pin.length < kMostDigits ? pin + key : pin);

/** The person whose label was scanned: its code, or the id as somebody types it, in capitals or not. */
export function personOnLabel(line: string, names: StationPerson[]): StationPerson | undefined {
  const said = line.trim().toUpperCase();
  return names.find((person) => person.code === said || person.id.toUpperCase() === said);
}
