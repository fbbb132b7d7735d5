import { useState } from 'preact/hooks';
import { bench } from '../words/bench';

const t = bench.reason;

/** A reason chosen with a thumb, or said in other words. One tap on a listed reason writes it. */
export function Reason({ kind, detail = '', busy, onSay, onLeave }: {
  kind: string; detail?: string; busy: boolean; onSay: (note: string) => void; onLeave: () => void;
}) {
  const [words, setWords] = useState('');
  const listed = t.list[kind] ?? [];
  const said = words.trim();
  const submit = (event: Event) => {
    event.preventDefault();
    if (said) onSay(said);
  };
  return (
    <section class="reason" aria-labelledby="reason-asked">
      <h2 id="reason-asked">{t.ask[kind]}</h2>
      {detail && <p class="detail">{detail}</p>}
      <ul class="big-choices">
        {listed.map((one) => (
          <li key={one}><button type="button" disabled={busy} onClick={() => onSay(one)}>{one}</button></li>
        ))}
      </ul>
      <form onSubmit={submit}>
        <label><span>{t.other}</span>
          <input type="text" value={words} maxLength={400} autocomplete="off" onInput={(event) => setWords(event.currentTarget.value)} />
        </label>
        <p class="deeds">
          <button type="submit" class="big-do" disabled={busy || !said}>{t.write}</button>
          <button type="button" class="big-do plainly" onClick={onLeave}>{t.leave}</button>
        </p>
      </form>
    </section>
  );
}
