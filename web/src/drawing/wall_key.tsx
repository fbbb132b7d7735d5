import { planWords } from '../words/plan';

const t = planWords.key;

/** How the wall is read: every sign has its shape, colour only helps. */
export function WallKey() {
  const sign = (shape: preact.JSX.Element, words: string) => <li><svg width="30" height="18" aria-hidden="true">{shape}</svg> {words}</li>;
  return (
    <ul class="key" aria-label={t.title}>
      {sign(<><rect class="key-block" x="1" y="2" width="28" height="14" /><path class="key-hatch" d="M4 16 16 2M12 16 24 2M20 16 29 6" /></>, t.frozen)}
      {sign(<><rect class="key-block" x="1" y="5" width="28" height="12" /><path class="pin" d="M9 4v8M5 1h8v4h-8Z" /></>, t.pinned)}
      {sign(<path class="key-block late" d="M1 2h20l8 7-8 7H1Z" />, t.late)}
      {sign(<><rect class="key-block cannot" x="1" y="2" width="28" height="14" /><path class="key-strike" d="M1 16 29 2" /></>, t.cannot)}
      {sign(<rect class="key-lent" x="1" y="4" width="28" height="10" />, t.lends)}
      {sign(<rect class="key-untouched" x="1" y="6" width="28" height="9" />, t.waits)}
      {sign(<rect class="key-shut" x="1" y="2" width="28" height="14" />, t.shut)}
      {sign(<path class="key-arrival sure" d="M8 2h12v7h-4l-2 7-2-7H8Z" />, t.arrival)}
      {sign(<path class="key-arrival unsure" d="M8 2h12v7h-4l-2 7-2-7H8Z" />, t.arrivalOpen)}
      {sign(<path class="key-flag" d="M22 1v16M22 1 6 7l16 6Z" />, t.promise)}
      <li class="small">{t.folded}</li>
    </ul>
  );
}
