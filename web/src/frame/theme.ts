import { useState } from 'preact/hooks';

export type Theme = 'paper' | 'night';
const kKey = 'rollwright.theme';

function keptTheme(): Theme | undefined {
  try {
    const kept = localStorage.getItem(kKey);
    return kept === 'paper' || kept === 'night' ? kept : undefined;
  } catch {
    return undefined;  // storage may be forbidden; then the machine's own wish holds
  }
}

const wished = (): Theme => (matchMedia('(prefers-color-scheme: dark)').matches ? 'night' : 'paper');

export function applyKeptTheme() {
  const kept = keptTheme();
  if (kept) document.documentElement.dataset['theme'] = kept;
}

export function useTheme(): [Theme, () => void] {
  const [theme, setTheme] = useState<Theme>(keptTheme() ?? wished());
  const turn = () => {
    const next = theme === 'paper' ? 'night' : 'paper';
    document.documentElement.dataset['theme'] = next;
    try {
      localStorage.setItem(kKey, next);
    } catch {
      // Nothing is lost but the memory of the choice.
    }
    setTheme(next);
  };
  return [theme, turn];
}
