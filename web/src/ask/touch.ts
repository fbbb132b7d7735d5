/** When somebody last touched this browser's pages, also before they were loaded again. */
const kKey = 'rollwright.touched';
const kOften = 20_000;  // milliseconds between two notes of it

let last = Date.now();  // whoever loads a page is there
let noted = 0;

function note(now: number) {
  noted = now;
  try {
    localStorage.setItem(kKey, String(now));
  } catch {
    // Then nothing else is kept in this browser either.
  }
}

/** Somebody is here, by this page's own knowledge. */
export const lastTouch = () => last;

/** Of any window of this browser; 0 when nobody noted it. */
export function touchNoted(): number {
  try {
    return Number(localStorage.getItem(kKey) ?? 0) || 0;
  } catch {
    return 0;
  }
}

export function touched(now = Date.now()) {
  last = now;
  if (Math.abs(now - noted) > kOften) note(now);
}

if (typeof document !== 'undefined') {
  for (const sign of ['pointerdown', 'keydown', 'wheel']) {
    document.addEventListener(sign, () => touched(), { capture: true, passive: true });
  }
}
