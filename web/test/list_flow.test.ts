import { describe, expect, it } from 'vitest';
import type { CatalogueView, ColumnMapping, ColumnView, ListRowView } from '../src/ask/ask';
import { attributesFor, changeColumn, columnOf, pageOf, rowsThatMatch, sendColumn, textOf, translate, wordsFor } from '../src/pages/list_flow';

const mapping: ColumnMapping = {
  separator: 'semicolon', decimal: 'comma', kind: 'K-TY',
  columns: [{ heading: 'Nr', goes_to: 'article' }, { heading: 'Gewicht', goes_to: 'mass', unit: 'g' }],
};
const catalogue: CatalogueView = {
  suppliers: [], lists: [], targets: ['article', 'kind'], availability: ['stocked', 'made'], most_bytes: 1, most_rows: 1,
  kinds: [{ id: 'K-TY', name: 'tyre', attributes: ['mass', 'bead'] }],
  attributes: [
    { id: 'mass', name: 'mass', type: 'number', unit: 'kg', units: ['kg', 'g'], choices: [] },
    { id: 'bead', name: 'bead', type: 'word', unit: '', units: [], choices: ['a', 'b'] },
    { id: 'teeth', name: 'teeth', type: 'flag', unit: '', units: [], choices: [] },
  ],
};
const seen = (heading: string, goes_to: string): ColumnView =>
  ({ heading, first_values: [], words: [], filled: 1, why: '', proposal: { heading, goes_to, unit: 'g' } });
const row = (line: number, fate: ListRowView['fate'], against = false): ListRowView => ({
  line, fate, article: '', part: '', name: '', kind: '', changes: [], notes: [], problems: [],
  contradictions: against ? [{ attribute: '', name: '', measured: '', by: '', date: '2026-01-01', listed: '', taken_over: false }] : [],
});

describe('the mapping of a list', () => {
  it('leaves out a column that is sent nowhere', () => {
    const less = sendColumn(mapping, seen('Gewicht', 'mass'), '');
    expect(less.columns.map((column) => column.heading)).toEqual(['Nr']);
    expect(columnOf(less, 'Gewicht').goes_to).toBe('');
  });
  it('keeps the proposed unit when a column goes where it was proposed to go', () => {
    expect(columnOf(sendColumn(mapping, seen('Gewicht', 'mass'), 'mass'), 'Gewicht').unit).toBe('g');
    expect(columnOf(sendColumn(mapping, seen('Gewicht', 'mass'), 'bead'), 'Gewicht').unit).toBeUndefined();
  });
  it('translates words and takes a translation back', () => {
    const one = translate(changeColumn(mapping, 'Sitz', { goes_to: 'bead' }), 'Sitz', 'Draht', 'a');
    expect(columnOf(one, 'Sitz').words).toEqual({ Draht: 'a' });
    expect(columnOf(translate(one, 'Sitz', 'Draht', ''), 'Sitz').words).toEqual({});
  });
  it('offers words only where words stand', () => {
    expect(wordsFor(catalogue, 'mass')).toBeUndefined();
    expect(wordsFor(catalogue, 'bead')?.map(([word]) => word)).toEqual(['a', 'b']);
    expect(wordsFor(catalogue, 'teeth')?.map(([word]) => word)).toEqual(['yes', 'no']);
    expect(wordsFor(catalogue, 'kind')).toEqual([['K-TY', 'tyre']]);
  });
  it('offers the attributes of the one kind, or all when a column says the kind', () => {
    expect(attributesFor(catalogue, mapping).map((each) => each.id)).toEqual(['mass', 'bead']);
    const says = changeColumn(mapping, 'Gruppe', { goes_to: 'kind' });
    expect(attributesFor(catalogue, says)).toHaveLength(3);
  });
});

describe('the rows of a preview', () => {
  const rows = [row(2, 'new'), row(3, 'same', true), row(4, 'refused')];
  it('are narrowed by what would happen', () => {
    expect(rowsThatMatch(rows, '')).toHaveLength(3);
    expect(rowsThatMatch(rows, 'refused').map((each) => each.line)).toEqual([4]);
    expect(rowsThatMatch(rows, 'against').map((each) => each.line)).toEqual([3]);
  });
  it('come a hundred at a time', () => {
    const many = Array.from({ length: 250 }, (_, i) => row(i, 'new'));
    expect(pageOf(many, 2)).toMatchObject({ page: 2, pages: 3, first: 200 });
    expect(pageOf(many, 2).rows).toHaveLength(50);
    expect(pageOf(many, 9).page).toBe(2);
    expect(pageOf([], 0)).toMatchObject({ page: 0, pages: 1, rows: [] });
  });
});

describe('the text of a file', () => {
  it('is read as UTF-8, or the line is named', () => {
    const bytes = (...numbers: number[]) => new Uint8Array(numbers).buffer;
    expect(textOf(bytes(0xc3, 0xa9))).toEqual({ text: 'é' });
    expect(textOf(bytes(0x61, 0x0a, 0x62, 0x0a, 0xff))).toEqual({ badLine: 3 });
  });
});
