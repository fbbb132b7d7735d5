import type { KitPart } from '../ask/ask';

/** What a scanner typed. Labels of the shop say what they are on; everything else is a part's own mark. */
export type Scanned =
  | { kind: 'order' | 'kit' | 'bin' | 'person' | 'tool'; id: string }
  | { kind: 'wheel'; id: string; wheel: 'front_wheel' | 'rear_wheel' }
  | { kind: 'mistyped' }
  | { kind: 'mark'; text: string };

const kKinds = { O: 'order', K: 'kit', W: 'wheel', B: 'bin', P: 'person', T: 'tool' } as const;
const kWheels: Record<string, 'front_wheel' | 'rear_wheel'> = { FRONT: 'front_wheel', REAR: 'rear_wheel' };
const kAlphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*';
const kModulus = 37;

/** ISO/IEC 7064, pure system MOD 37-2, with the hyphen in the place of "*": as labels are made. */
export function checkCharacter(text: string): string {
  let sum = 0;
  for (const one of text) sum = ((sum + (one === '-' ? kModulus - 1 : kAlphabet.indexOf(one))) * 2) % kModulus;
  return kAlphabet.charAt((kModulus + 1 - sum) % kModulus);
}

/** "--2F" stands for a byte that is neither letter nor digit; undefined when it is not written so. */
function plainId(text: string): string | undefined {
  try {
    return decodeURIComponent(text.replace(/%/g, '%25').replace(/--([0-9A-F]{2})/g, '%$1')) || undefined;
  } catch {
    return undefined;
  }
}

export function scannedIn(typed: string): Scanned {
  const trimmed = typed.trim();
  const [ours, letter = '', ...rest] = trimmed.toUpperCase().split(':');
  const kind = ours === 'RW' ? kKinds[letter as keyof typeof kKinds] : undefined;
  if (!kind) return { kind: 'mark', text: trimmed };
  const check = rest.pop();
  const named = rest.join('');
  if (!/^[0-9A-Z-]+$/.test(named) || check !== checkCharacter(letter + named)) return { kind: 'mistyped' };
  const id = plainId(rest[0] ?? '');
  const wheel = kWheels[rest[1] ?? ''];
  if (id === undefined || rest.length !== (kind === 'wheel' ? 2 : 1)) return { kind: 'mistyped' };
  if (kind !== 'wheel') return { kind, id };
  return wheel ? { kind, id, wheel } : { kind: 'mistyped' };
}

/** Labels say ids in capitals. */
export const isSameId = (one: string, other: string) => one.toUpperCase() === other.toUpperCase();

export type KitScan =
  | { how: 'there'; part: KitPart }      // it is in this bike's kit already
  | { how: 'bind'; part: KitPart }
  | { how: 'ask'; parts: KitPart[] };    // which of these it is, a person says

/** Where a number that was scanned belongs in the kit. */
export function placeInKit(kit: KitPart[], text: string): KitScan {
  const there = kit.find((part) => part.bound && (isSameId(part.serial, text)));
  if (there) return { how: 'there', part: there };
  const open = kit.filter((part) => !part.bound);
  const meant = open.filter((part) => part.seen.some((mark) => isSameId(mark, text)));
  const [only] = meant;
  if (only && meant.length === 1) return { how: 'bind', part: only };
  return { how: 'ask', parts: meant.length > 0 ? meant : open };
}

/** Where a part of a bin belongs; several places when the bike has more of them. */
export function placesOfPart(kit: KitPart[], part: string): KitPart[] {
  return kit.filter((one) => !one.bound && isSameId(one.part, part));
}
