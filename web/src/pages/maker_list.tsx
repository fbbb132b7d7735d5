import { useState } from 'preact/hooks';
import { ask, type MakerView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { makerWords as t } from '../words/maker';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { ChoiceField, FileField, TextField } from './field';

const kHead = 'position,part,article,quantity,options,serial';

/** A cell as the CSV wants it: quoted where it has a comma or quotes. */
const cell = (text: string) => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

const lineOf = (line: MakerView['form']['lines'][number]) =>
  [line.position, line.part, line.article, String(line.quantity), line.options, ''].map(cell).join(',');

/** Takes in a list of the maker: its file, or lines that are typed, as the same CSV. */
export function TakeMakerList({ view, onPut }: { view: MakerView; onPut: (view: MakerView) => void }) {
  const { people } = useShop();
  const [kind, setKind] = useState<'confirmed' | 'as built'>(view.state === 'Agreed' ? 'confirmed' : 'as built');
  const [file, setFile] = useState<File | undefined>();
  const [typed, setTyped] = useState('');
  const [reference, setReference] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<MakerView>(onPut);
  const take = (event: Event) => {
    event.preventDefault();
    void run(async () => ask.takeMakerList(view.order, {
      who: by.who, kind, reference: reference.trim(), file: file ? file.name : 'typed in', csv: file ? await file.text() : typed,
    }));
  };
  const start = () => setTyped([kHead, ...view.form.lines.map(lineOf)].join('\n'));
  return (
    <section>
      <h2>{t.take}</h2>
      <form class="maker-form" onSubmit={take} aria-label={t.take} noValidate>
        <ChoiceField label={t.kind} value={kind} onValue={(value) => setKind(value === 'confirmed' ? 'confirmed' : 'as built')}
          options={Object.entries(t.kinds)} />
        <TextField label={t.reference} value={reference} onValue={setReference} />
        <ByWhomField by={by} label={t.who} people={people} />
        <div class="whole"><FileField label={t.file} hint={t.fileHint} onFile={setFile} /></div>
        {!file && <div class="whole"><TextField label={t.typed} hint={t.typedHint} lines={typed ? 12 : 3} value={typed} onValue={setTyped} /></div>}
        <div class="whole"><Complaint words={complaint} /></div>
        <p class="whole">
          <button type="submit" class="do" disabled={busy || by.who === '' || (!file && typed.trim() === '')}>{t.takeDo}</button>{' '}
          {!file && typed === '' && <button type="button" class="plain" onClick={start}>{t.fromForm}</button>}
        </p>
      </form>
    </section>
  );
}
