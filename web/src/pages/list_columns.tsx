import type { CatalogueView, ColumnMapping, ColumnView, MappingView } from '../ask/ask';
import { lists as t } from '../words/lists';
import { ChoiceField, TextField, TickField } from './field';
import { attributesFor, changeColumn, columnOf, sendColumn, translate, wordsFor } from './list_flow';

interface Editing {
  catalogue: CatalogueView;
  mapping: ColumnMapping;
  onMapping: (mapping: ColumnMapping) => void;
}

function Target({ catalogue, mapping, onMapping, seen }: Editing & { seen: ColumnView }) {
  const kind = catalogue.kinds.find((each) => each.id === mapping.kind);
  const saysKind = mapping.columns.some((column) => column.goes_to === 'kind');
  const now = columnOf(mapping, seen.heading).goes_to;
  const attributes = attributesFor(catalogue, mapping);
  const stray = now && !catalogue.targets.includes(now) && !attributes.some((each) => each.id === now);
  return (
    <select aria-label={`${seen.heading}: ${t.goesTo}`} value={now}
      onChange={(event) => onMapping(sendColumn(mapping, seen, event.currentTarget.value))}>
      <option value="">{t.leftOut}</option>
      {stray && <option value={now}>{now}</option>}
      {catalogue.targets.map((target) => <option key={target} value={target}>{target}</option>)}
      <optgroup label={t.allFacts(saysKind ? '' : kind?.name ?? '')}>
        {attributes.map((each) => <option key={each.id} value={each.id}>{each.name}</option>)}
      </optgroup>
    </select>
  );
}

function Words({ catalogue, mapping, onMapping, seen }: Editing & { seen: ColumnView }) {
  const column = columnOf(mapping, seen.heading);
  const choices = wordsFor(catalogue, column.goes_to);
  if (!choices || seen.words.length === 0) return null;
  return (
    <details class="list-words">
      <summary>{t.words(seen.words.length)}</summary>
      {seen.words.map((theirs) => {
        const ours = column.words?.[theirs] ?? '';
        const known = choices.some(([id]) => id === ours) || ours === '';
        return (
          <label key={theirs}><span>{theirs}</span>
            <select value={ours} onChange={(event) => onMapping(translate(mapping, seen.heading, theirs, event.currentTarget.value))}>
              <option value="">{t.wordsNone}</option>
              {!known && <option value={ours}>{ours}</option>}
              {choices.map(([id, name]) => <option key={id} value={id}>{name}</option>)}
            </select>
          </label>
        );
      })}
    </details>
  );
}

function Unit({ catalogue, mapping, onMapping, seen }: Editing & { seen: ColumnView }) {
  const column = columnOf(mapping, seen.heading);
  if (column.goes_to === 'cost price') {
    return (
      <label class="from-quantity"><span>{t.from}</span>
        <input type="number" min="1" max="1000000" value={column.from_quantity ?? 1}
          onChange={(event) => onMapping(changeColumn(mapping, seen.heading, { from_quantity: Math.max(1, Math.round(Number(event.currentTarget.value) || 1)) }))} />
      </label>
    );
  }
  const attribute = catalogue.attributes.find((each) => each.id === column.goes_to);
  if (!attribute || attribute.units.length === 0) return <Words catalogue={catalogue} mapping={mapping} onMapping={onMapping} seen={seen} />;
  return (
    <select aria-label={`${seen.heading}: ${t.unit}`} value={column.unit ?? ''}
      onChange={(event) => onMapping(changeColumn(mapping, seen.heading, { unit: event.currentTarget.value }))}>
      <option value="">{t.perUnit(attribute.unit)}</option>
      {attribute.units.map((unit) => <option key={unit} value={unit}>{unit}</option>)}
    </select>
  );
}

/** The columns of the list, each with what it shows, where it goes, and why that is proposed. */
function ColumnTable(editing: Editing & { columns: ColumnView[] }) {
  return (
    <table class="list-columns">
      <thead>
        <tr>
          <th scope="col">{t.column}</th><th scope="col">{t.firstValues}</th><th scope="col">{t.goesTo}</th>
          <th scope="col">{t.unit}</th><th scope="col" class="extra">{t.why}</th>
        </tr>
      </thead>
      <tbody>
        {editing.columns.map((seen) => (
          <tr key={seen.heading}>
            <th scope="row">{seen.heading}</th>
            <td class="quiet first-values">{seen.first_values.join(' · ')}</td>
            <td><Target {...editing} seen={seen} /></td>
            <td><Unit {...editing} seen={seen} /></td>
            <td class="small column-why">{seen.why}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function ListColumns({ view, ...editing }: Editing & { view: MappingView }) {
  const { catalogue, mapping, onMapping } = editing;
  const saysKind = mapping.columns.some((column) => column.goes_to === 'kind');
  const kinds: [string, string][] = [['', saysKind ? t.kindOfRow : t.choose], ...catalogue.kinds.map((kind): [string, string] => [kind.id, kind.name])];
  return (
    <section>
      <h2>{t.columns}</h2>
      <p class="quiet">{view.sentence}. {view.saved ? t.saved : t.proposed}</p>
      <div class="list-whole">
        <ChoiceField label={t.kind} value={mapping.kind ?? ''} options={kinds} hint={view.kind_why}
          onValue={(kind) => onMapping({ ...mapping, kind })} />
        <ChoiceField label={t.decimal} value={mapping.decimal} options={[['point', t.point], ['comma', t.comma]]} hint={view.decimal_why}
          onValue={(decimal) => onMapping({ ...mapping, decimal: decimal === 'comma' ? 'comma' : 'point' })} />
        <TextField label={t.newNumber} value={mapping.new_number ?? ''} onValue={(new_number) => onMapping({ ...mapping, new_number })} />
      </div>
      <TickField label={t.keepNames} value={mapping.keep_names ?? true} onValue={(keep_names) => onMapping({ ...mapping, keep_names })} />
      <ColumnTable {...editing} columns={view.columns} />
    </section>
  );
}
