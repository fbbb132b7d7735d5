import { useState } from 'preact/hooks';
import { ask, Refusal, type TakenListView, type UndoView } from '../ask/ask';
import { Refused } from '../marks/waiting';
import { dayInWords } from '../words/day';
import { lists as t } from '../words/lists';

/** Taking back asks once more: the second press does it. */
function TakeBack({ list, onDone }: { list: TakenListView; onDone: (view: UndoView) => void }) {
  const [asked, setAsked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const takeBack = async () => {
    setBusy(true);
    try {
      onDone(await ask.takeBackList(list.number));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    } finally {
      setBusy(false);
      setAsked(false);
    }
  };
  if (refusal) return <Refused refusal={refusal} />;
  if (!asked) return <button type="button" class="plain" onClick={() => setAsked(true)}>{t.takeBack}<span class="unseen"> {t.number} {list.number}</span></button>;
  return (
    <span class="sure">
      <button type="button" class="do" disabled={busy} ref={(button) => button?.focus()} onClick={takeBack}>{busy ? t.takingBack : t.sure(list.number)}</button>{' '}
      <button type="button" class="plain" onClick={() => setAsked(false)}>{t.keep}</button>
    </span>
  );
}

function Undone({ view }: { view: UndoView }) {
  return (
    <div class="report" role="status">
      <p><b>{view.sentence}</b></p>
      {view.discontinued.length > 0 && <p class="small">{t.discontinued}: {view.discontinued.join('; ')}</p>}
      {view.left.length > 0 && <p class="small">{t.left}: {view.left.join('; ')}</p>}
    </div>
  );
}

export function ListsTaken({ taken, onChanged }: { taken: TakenListView[]; onChanged: () => void }) {
  const [undone, setUndone] = useState<UndoView | undefined>(undefined);
  return (
    <section>
      <h2>{t.takenTitle}</h2>
      {undone && <Undone view={undone} />}
      {taken.length === 0 ? <p class="quiet">{t.takenNone}</p> : (
        <table class="lists-taken">
          <thead>
            <tr><th scope="col">{t.number}</th><th scope="col">{t.supplier}</th><th scope="col" class="extra">{t.on}</th><th scope="col">{t.what}</th><th scope="col"><span class="unseen">{t.takeBack}</span></th></tr>
          </thead>
          <tbody>
            {taken.map((list) => (
              <tr key={list.number}>
                <th scope="row">{list.number}</th>
                <td>{list.supplier_name}<span class="quiet file">{list.file}</span></td>
                <td class="extra">{dayInWords(list.taken)}<span class="quiet file">{t.by.toLowerCase()} {list.who}</span></td>
                <td>{t.summary(list.added, list.changed, list.refused)}</td>
                <td>{list.undone ? <span class="quiet">{t.undone}</span> : <TakeBack list={list} onDone={(view) => { setUndone(view); onChanged(); }} />}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
