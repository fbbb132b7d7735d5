import { describe, expect, it } from 'vitest';
import type { TraceView } from '../ask/ask';
import { askedWords, traceCsv, traceIn, tracePath } from './trace_list';

describe('a trace', () => {
  it('asks for what its address says, and for nothing that is empty', () => {
    expect(traceIn('part=HG-0001&lot_from=&serial_from=%20A1%20&other=2')).toEqual({ part: 'HG-0001', serial_from: 'A1' });
    expect(tracePath({ lot_from: 'L 1', lot_to: 'L 9' })).toBe('/records/trace?lot_from=L+1&lot_to=L+9');
    expect(traceIn(tracePath({ lot_from: 'L 1' }).split('?')[1] ?? '')).toEqual({ lot_from: 'L 1' });
    expect(tracePath({})).toBe('/records/trace');
  });
  it('says on paper what was asked', () => {
    expect(askedWords({ part: 'HG-0001', lot_from: 'L1', lot_to: 'L9', serial_from: 'A1' })).toEqual(['Part HG-0001', 'Lot L1 to L9', 'Serial A1']);
    expect(askedWords({})).toEqual([]);
  });
  it('becomes a table in which no cell breaks its row or is reckoned', () => {
    const bike = { order: '2001', rider: 'Ada, "the" rider', contact: '+44 1', state: 'In care', slot: 'rear hub', part: 'HG-0001', name: '=2+2', serial: 'A\n1', lot: '', certainty: 'certain' as const, since: '2026', off: '' };
    const csv = traceCsv({ sentence: '', bikes: [bike], stock: [{ part: 'HG-0001', name: 'hub', line: 'P-1', serial: '', lot: 'L1', pieces: 3, place: 'in store' }] } as TraceView);
    const lines = csv.split('\r\n');
    expect(lines[1]).toBe(`certain,2001,"Ada, ""the"" rider",'+44 1,In care,rear hub,HG-0001,'=2+2,"A\n1",,2026,,,,`);
    expect(lines[2]).toBe(',,,,,,HG-0001,hub,,L1,,,P-1,3,in store');
    expect(new Set(lines.filter(Boolean).map((line) => line.replace(/"[^"]*("")?[^"]*"/g, '').split(',').length)).size).toBe(1);
  });
});
