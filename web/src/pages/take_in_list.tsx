import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, type CatalogueView, type ColumnMapping, type GivenList, type MappingView, type PreviewView, Refusal, type TakeInView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { Body, Refused, Waiting } from '../marks/waiting';
import { lists as t } from '../words/lists';
import { ChoiceField, DayField, TickField } from './field';
import { ListColumns } from './list_columns';
import { textOf } from './list_flow';
import { ListPreview } from './list_preview';
import { ListsTaken } from './lists_taken';

interface Chosen {
  name: string;
  text: string;
}

/** A file that is chosen or dropped; also reached and opened with the keyboard. */
function ChooseFile({ chosen, most, onFile }: { chosen: Chosen | undefined; most: number; onFile: (file: Chosen) => void }) {
  const input = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
  const [wrong, setWrong] = useState('');
  const take = async (file: File | undefined) => {
    setOver(false);
    if (!file) return;
    if (file.size > most) return setWrong(t.tooLarge(Math.floor(most / 1024 / 1024)));
    const read = textOf(await file.arrayBuffer());
    if ('badLine' in read) return setWrong(t.notText(read.badLine));
    setWrong('');
    onFile({ name: file.name, text: read.text });
  };
  return (
    <div class={over ? 'list-file over' : 'list-file'}
      onDragOver={(event) => { event.preventDefault(); setOver(true); }} onDragLeave={() => setOver(false)}
      onDrop={(event) => { event.preventDefault(); void take(event.dataTransfer?.files[0]); }}>
      <input ref={input} id="list-file" class="unseen" type="file" accept=".csv,.txt,.tsv,text/csv" aria-label={t.file}
        onChange={(event) => { void take(event.currentTarget.files?.[0]); event.currentTarget.value = ''; }} />
      {chosen
        ? <p><b>{t.chosen(chosen.name, Math.ceil(chosen.text.length / 1024))}</b> <label class="plain" for="list-file">{t.other}</label></p>
        : <p>{t.drop} <label class="plain" for="list-file">{t.pick}</label></p>}
      {wrong && <p class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {wrong}</p>}
    </div>
  );
}

/** Asks with `question` when `key` has been still for a moment; the newest question wins. */
function useAsked<T>(key: string, question: (() => Promise<T>) | undefined, calm: number) {
  const [answered, setAnswered] = useState<{ key: string; value?: T; refusal?: Refusal }>({ key: '' });
  useEffect(() => {
    if (!question) return;
    let dropped = false;
    const timer = setTimeout(() => question().then(
      (value) => { if (!dropped) setAnswered({ key, value }); },
      (refusal: unknown) => {
        if (!(refusal instanceof Refusal)) throw refusal;
        if (!dropped) setAnswered({ key, refusal });
      }), calm);
    return () => {
      dropped = true;
      clearTimeout(timer);
    };
  }, [key, question !== undefined]);
  return { ...answered, fresh: answered.key === key };
}

function Deed({ given, preview, fresh, onTaken }: {
  given: GivenList; preview: PreviewView; fresh: boolean; onTaken: (view: TakeInView) => void;
}) {
  const [skip, setSkip] = useState(false);
  const [busy, setBusy] = useState<'' | 'dry' | 'take'>('');
  const [said, setSaid] = useState('');
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  useEffect(() => { setSaid(''); setRefusal(undefined); }, [preview]);
  const refused = preview.counts.refused ?? 0;
  const good = (preview.counts.new ?? 0) + (preview.counts.changed ?? 0);
  const doIt = async (dry_run: boolean) => {
    setBusy(dry_run ? 'dry' : 'take');
    setRefusal(undefined);
    try {
      const view = await ask.takeInList({ ...given, dry_run, skip_bad_rows: skip, as_seen: preview.as_seen });
      setSaid(view.sentence);
      if (view.taken) onTaken(view);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    } finally {
      setBusy('');
    }
  };
  const held = busy !== '' || !fresh || good === 0 || preview.problems.length > 0;
  return (
    <div class="list-deed">
      {refused > 0 && <TickField label={t.skip(refused)} value={skip} onValue={setSkip} />}
      {refusal && <Refused refusal={refusal} />}
      <p class="said" role="status">{said}</p>
      <p class="deeds">
        <button type="button" class="do" disabled={held || (refused > 0 && !skip)} onClick={() => doIt(false)}>
          {busy === 'take' ? t.taking : good === 0 ? t.nothing : t.take(good)}
        </button>
        <button type="button" class="plain" disabled={held} onClick={() => doIt(true)}>{busy === 'dry' ? t.dryRunning : t.dryRun}</button>
      </p>
    </div>
  );
}

function Steps({ catalogue, file, supplier, day, onTaken }: {
  catalogue: CatalogueView; file: Chosen; supplier: string; day: string; onTaken: (view: TakeInView) => void;
}) {
  const base: GivenList = { file: file.name, text: file.text, supplier, day: day || null };
  const source = `${supplier} ${file.name} ${file.text.length}`;
  const proposed = useAsked<MappingView>(source, () => ask.proposeMapping(base), 0);
  const [changed, setChanged] = useState<{ source: string; mapping: ColumnMapping } | undefined>(undefined);
  const [letGo, setLetGo] = useState<string[]>([]);
  const mapping = changed?.source === source ? changed.mapping : proposed.fresh ? proposed.value?.mapping : undefined;
  const given: GivenList = { ...base, mapping: mapping!, take_over: letGo };
  const key = `${source} ${day} ${JSON.stringify(mapping)} ${letGo.join()}`;
  const preview = useAsked<PreviewView>(key, mapping && (() => ask.previewList(given)), 250);
  if (proposed.refusal) return <Refused refusal={proposed.refusal} />;
  if (!proposed.value || !mapping) return <Waiting words={t.reading} />;
  return (
    <>
      <ListColumns catalogue={catalogue} view={proposed.value} mapping={mapping} onMapping={(next) => setChanged({ source, mapping: next })} />
      <section aria-busy={!preview.fresh}>
        <h2>{t.preview}</h2>
        {preview.refusal && <Refused refusal={preview.refusal} />}
        {!preview.value && !preview.refusal && <Waiting words={t.looking} />}
        {preview.value && (
          <>
            <Deed given={given} preview={preview.value} fresh={preview.fresh} onTaken={onTaken} />
            <ListPreview preview={preview.value} taken={letGo} onTaken={setLetGo} />
          </>
        )}
      </section>
    </>
  );
}

function Desk({ catalogue, again }: { catalogue: CatalogueView; again: () => void }) {
  const { today } = useShop();
  const [supplier, setSupplier] = useState(catalogue.suppliers.length === 1 ? catalogue.suppliers[0]!.id : '');
  const [day, setDay] = useState(today);
  const [file, setFile] = useState<Chosen | undefined>(undefined);
  const [taken, setTaken] = useState<TakeInView | undefined>(undefined);
  if (catalogue.suppliers.length === 0) return <p>{t.noSuppliers}</p>;
  return (
    <>
      <div class="list-first">
        <ChoiceField label={t.who} hint={t.whoHint} value={supplier} onValue={(id) => { setSupplier(id); setTaken(undefined); }}
          options={[['', t.choose], ...catalogue.suppliers.map((each): [string, string] => [each.id, each.name])]} />
        <DayField label={t.day} value={day} onValue={setDay} />
        <ChooseFile chosen={file} most={catalogue.most_bytes} onFile={(next) => { setFile(next); setTaken(undefined); }} />
      </div>
      {taken && <div class="report taken" role="status"><p><Mark shape="tick" tone="touch" /> <b>{taken.sentence}</b> <a href="/parts">{t.back}</a></p></div>}
      {file && supplier && !taken && (
        <Steps key={`${supplier} ${file.name}`} catalogue={catalogue} file={file} supplier={supplier} day={day}
          onTaken={(view) => { setTaken(view); again(); }} />
      )}
      <ListsTaken taken={catalogue.lists} onChanged={() => { setTaken(undefined); again(); }} />
    </>
  );
}

export function TakeInListPage() {
  const answered = useAnswer('catalogue', ask.catalogue, (changed) => changed.order === '');
  return (
    <div class="page take-in">
      <div class="title-line"><h1>{t.title}</h1><a href="/parts">{t.back}</a></div>
      <p class="lead">{t.lead}</p>
      <Body answered={answered}>{(catalogue) => <Desk catalogue={catalogue} again={answered.again} />}</Body>
    </div>
  );
}
