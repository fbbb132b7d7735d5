/**
 * The newer value, but with every piece that did not change taken from the older one, so that what
 * shows such a piece sees at a glance that it need not be drawn again. Values are plain JSON.
 */
export function keepSame<T>(older: unknown, newer: T): T {
  if (older === newer) return newer;
  if (Array.isArray(older) && Array.isArray(newer)) return keepSameList(older, newer) as T;
  if (isPlain(older) && isPlain(newer)) return keepSameObject(older, newer) as T;
  return newer;
}

type Plain = Record<string, unknown>;

const isPlain = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function keepSameList(older: unknown[], newer: unknown[]): unknown[] {
  const kept = newer.map((value, i) => keepSame(older[i], value));
  return older.length === kept.length && kept.every((value, i) => value === older[i]) ? older : kept;
}

function keepSameObject(older: Plain, newer: Plain): Plain {
  const names = Object.keys(newer);
  const kept: Plain = {};
  let same = names.length === Object.keys(older).length;
  for (const name of names) {
    kept[name] = keepSame(older[name], newer[name]);
    if (kept[name] !== older[name] || !(name in older)) same = false;
  }
  return same ? older : kept;
}
