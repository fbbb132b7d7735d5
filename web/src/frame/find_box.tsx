import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, type FoundLine } from '../ask/ask';
import { say } from '../words/say';
import { go } from './travel';
import { typesText } from './types_text';

/** What was found, and for which words: until the server has answered, older lines stay in view. */
interface Found {
  for: string;
  lines: FoundLine[];
}

/** Asks as one types, but not for every letter, and never shows an older answer over a newer one. */
function useFound(words: string): Found | undefined {
  const [found, setFound] = useState<Found | undefined>(undefined);
  useEffect(() => {
    if (!words) return setFound(undefined);
    let wanted = true;
    const answered = (lines: FoundLine[]) => wanted && setFound({ for: words, lines });
    const timer = setTimeout(() => ask.find(words).then(answered, () => answered([])), 90);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [words]);
  return words ? found : undefined;
}

function useSlashKey(focus: () => void) {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.key !== '/' || event.ctrlKey || event.metaKey || typesText(event.target)) return;
      event.preventDefault();
      focus();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, []);
}

export function FindBox() {
  const box = useRef<HTMLInputElement>(null);
  const [words, setWords] = useState('');
  const [at, setAt] = useState(0);
  const [open, setOpen] = useState(false);
  // Enter came before the answer to the words it was meant for: the first line opens once it is here.
  const [entered, setEntered] = useState(false);
  const answer = useFound(words.trim());
  const found = answer?.lines;
  useSlashKey(() => box.current?.select());
  const visit = (line: FoundLine | undefined) => {
    if (!line) return;
    setOpen(false);
    setWords('');
    box.current?.blur();
    go(line.link);
  };
  useEffect(() => {
    setAt(0);
    setEntered(false);
    if (entered) visit(found?.[0]);
  }, [found]);
  const showing = open && found !== undefined;

  const onKeyDown = (event: KeyboardEvent) => {
    const last = (found?.length ?? 0) - 1;
    if (event.key === 'Escape') {
      setOpen(false);
      setEntered(false);
      setWords('');
    } else if (event.key === 'Enter') {
      if (answer?.for === words.trim()) visit(found?.[at]);
      else setEntered(words.trim() !== '');
    } else if (event.key === 'ArrowDown' && found) {
      event.preventDefault();
      setOpen(true);
      setAt(Math.min(last, at + 1));
    } else if (event.key === 'ArrowUp' && found) {
      event.preventDefault();
      setAt(Math.max(0, at - 1));
    }
  };

  return (
    <div class="find" role="search" onFocusOut={() => { setOpen(false); setEntered(false); }}>
      <input ref={box} type="text" role="combobox" autocomplete="off" spellcheck={false} value={words}
        placeholder={say.find.label} aria-label={say.find.label} aria-expanded={showing}
        aria-controls="found" aria-autocomplete="list"
        aria-activedescendant={showing && found.length > 0 ? `found-${at}` : undefined}
        onInput={(event) => { setWords(event.currentTarget.value); setOpen(true); setEntered(false); }}
        onFocus={() => setOpen(true)} onKeyDown={onKeyDown} />
      <kbd aria-hidden="true">/</kbd>
      <ul id="found" role="listbox" aria-label={say.find.results} hidden={!showing || found.length === 0}>
        {showing && found.map((line, i) => (
          <li key={line.link + line.text} id={`found-${i}`} role="option" aria-selected={i === at}
            onMouseDown={(event) => event.preventDefault()} onClick={() => visit(line)}
            onMouseMove={() => setAt(i)}>
            <span class="kind">{line.kind}</span> {line.text}
          </li>
        ))}
      </ul>
      {showing && found.length === 0 && <p class="found-nothing" role="status">{say.find.nothing(words.trim())}</p>}
    </div>
  );
}
