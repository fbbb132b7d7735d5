import { describe, expect, it } from 'vitest';
import type { BenchOperation, BenchView, DeedGiven, KitPart, SheetValue } from '../ask/ask';
import type { Write } from '../ask/waiting_writes';
import { aheadOf, pointKey } from './bench_ahead';
import { hasSkill, openIn, whyNotPass, whyNotStart } from './bench_why';

const value = (reading: string, change: Partial<SheetValue> = {}): SheetValue => ({
  reading, name: reading, dimension: 'torque', unit: 'N·m', pass_or_fail: false, stop: true, stop_below: null, stop_above: null, target: null,
  strictest: { least: 4, most: 6, source: '' }, limits: [], how: '', count: 1, target_text: '', range_text: '', us_text: '', ...change,
});
const blank = { value: null, text: '', outcome: '', who: '', at: '', tool: '' };
const operation = (id: string, change: Partial<BenchOperation> = {}): BenchOperation => ({
  operation: id, name: `name of ${id}`, area: 'assembly', skill: 'L2', skill_words: 'mechanic’s work', minutes_low: 1, minutes_high: 2, minutes_taken: 0,
  second_person: false, hands: 1, steps: '', tools: [], consumables: [], cautions: [], fits: [], standing: 'open', because: '', waits_for: [], doers: [], helpers: [], no_helper: '', running: '',
  running_since: '', fault: '', care: false, readings: [{ value: value('stem'), points: [blank] }], ...change,
});
const bike = (change: Partial<BenchView> = {}): BenchView => ({
  order: '2016', rider: '', build: '', frame: '', state: '', promised: null, last: 0, done: 0, blocked: '', stops: [],
  operations: [operation('A-60'), operation('A-61', { standing: 'not yet', waits_for: ['A-60'] })],
  checks: [{ id: 'D4', list: 'pre-delivery', text: '', limit: '', mark: 'S', covers: ['A-60'], outcome: '', who: '', at: '', note: '', because: 'A-60 was done again' }],
  kit: [{ slot: 'fork', bound: false, serial: '', here: 'put by', seen: ['K9'] } as unknown as KitPart],
  as_far: { missing: [], possible: [], not_possible: [], sentence: '' }, paired: [], open_questions: [], care: false, visit: null, ...change,
});
const write = (...deeds: DeedGiven[]): Write => ({ key: 'k', order: '2016', who: 'tove', words: '', deeds, made: 1, tries: 1, after: 0, refused: '' });
const ahead = (...writes: Write[]) => aheadOf(bike(), writes, (id) => (id === 'tove' ? 'Tove' : id));
const tove = { id: 'tove', name: 'Tove', skills: ['L2'] };

describe('a bike ahead of what is written', () => {
  it('is the bike itself while nothing waits', () => {
    const view = bike();
    expect(aheadOf(view, [{ ...write({ deed: 'done', about: 'A-60' }), order: '2012' }], String).view).toBe(view);
    expect(aheadOf(view, [{ ...write({ deed: 'done', about: 'A-60' }), refused: 'no' }], String).view).toBe(view);
  });
  it('is begun, read and done, and opens what comes after', () => {
    const { view, waits } = ahead(
      write({ deed: 'started', about: 'A-60', at: '2026-11-25T08:00:00Z' }),
      write({ deed: 'read', about: 'A-60', reading: 'stem', value: '46 in-lb', tool: 'T2' }),
      write({ deed: 'done', about: 'A-60' }));
    expect(view.operations[0]).toMatchObject({ standing: 'done', doers: ['Tove'], running: '', readings: [{ points: [{ outcome: 'pass', text: '46 in-lb', tool: 'T2' }] }] });
    expect(view.operations[1]).toMatchObject({ standing: 'open', waits_for: [] });
    expect(view.done).toBe(1);
    expect([...waits]).toEqual(['A-60', pointKey('A-60', 'stem', 1)]);
  });
  it('shows a reading outside, and forgets it when it is done again', () => {
    const read = write({ deed: 'read', about: 'A-60', reading: 'stem', value: '7,5 N·m' });
    expect(ahead(read).view.operations[0]?.readings[0]?.points[0]).toMatchObject({ outcome: 'stop', value: 7.5 });
    const again = ahead(read, write({ deed: 'redo', about: 'A-60', note: 'set anew' })).view.operations[0];
    expect(again).toMatchObject({ standing: 'redo', because: 'set anew', doers: [], readings: [{ points: [blank] }] });
  });
  it('counts what was written since the view was asked for, and does not call it waiting', () => {
    const begun = { write: write({ deed: 'started', about: 'A-60' }), last: 1 };
    const elsewhere = { write: { ...write({ deed: 'done', about: 'A-60' }), order: '2012' }, last: 9 };
    const { view, waits } = aheadOf(bike(), [], String, [begun, elsewhere]);
    expect(view.operations[0]).toMatchObject({ standing: 'running', running: 'tove' });
    expect([...waits]).toEqual([]);
    const seen = bike({ last: 1 });
    expect(aheadOf(seen, [], String, [begun, elsewhere]).view).toBe(seen);
  });
  it('keeps pauses and faults with their reasons', () => {
    expect(ahead(write({ deed: 'paused', about: 'A-60', note: 'Break' })).view.operations[0]).toMatchObject({ standing: 'paused', because: 'Break' });
    const faulty = write({ deed: 'fault', about: 'A-60', note: 'It leaks' });
    expect(ahead(faulty).view.operations[0]).toMatchObject({ fault: 'It leaks', standing: 'paused' });
    expect(ahead(faulty, write({ deed: 'mended', about: 'A-60', note: 'new' })).view.operations[0]?.fault).toBe('');
  });
  it('says who lends a hand, or why nobody does, until it is done again', () => {
    const two = bike({ operations: [operation('A-60', { hands: 2, readings: [] })] });
    const after = (...deeds: DeedGiven[]) => aheadOf(two, [write({ deed: 'started', about: 'A-60' }, ...deeds)], (id) => (id === 'otto' ? 'Otto' : id)).view.operations[0] as BenchOperation;
    expect(openIn(after())).toEqual(['two people are at it at once: say who lends a hand']);
    const lent: DeedGiven = { deed: 'hand', about: 'A-60', hand: 'otto' };
    expect(after(lent)).toMatchObject({ helpers: ['Otto'], no_helper: '' });
    expect(openIn(after(lent))).toEqual([]);
    expect(openIn(after({ deed: 'hand', about: 'A-60', note: 'a lift holds it' }))).toEqual([]);
    expect(after(lent, { deed: 'redo', about: 'A-60', note: 'fell over' })).toMatchObject({ helpers: [], no_helper: '' });
  });
  it('keeps whoever lent a hand from signing a line over that work', () => {
    const view = bike({ operations: [operation('A-60', { standing: 'done', doers: ['Otto'], helpers: ['Tove'] })] });
    expect(whyNotPass(view, view.checks[0] as BenchView['checks'][0], tove)).toEqual(['A second person signs this: Tove lent a hand at A-60 name of A-60.']);
  });
  it('binds parts, pairs wheels and signs lines', () => {
    const { view } = ahead(write({ deed: 'kitted', about: 'fork', serial: 'K9' }), write({ deed: 'paired', about: 'front_wheel' }), write({ deed: 'checked', about: 'D4', outcome: 'fix', note: 'Loose' }));
    expect(view.kit[0]).toMatchObject({ bound: true, serial: 'K9', who: 'Tove' });
    expect(view.paired).toEqual(['front_wheel']);
    expect(view.checks[0]).toMatchObject({ outcome: 'fix', who: 'Tove', note: 'Loose', because: '' });
    expect(aheadOf(view, [write({ deed: 'off', about: 'fork', note: 'damaged' })], String).view.kit[0]).toMatchObject({ bound: false, serial: '' });
  });
});

describe('why not', () => {
  it('is said before it is touched: what it comes after, the skill, a stop elsewhere', () => {
    const view = bike({ stops: ['D9 stops the bike: brake'] });
    const why = whyNotStart(view, operation('A-61', { waits_for: ['A-60'], skill: 'WB', skill_words: 'wheelbuilding' }), tove).join(' ');
    expect(why).toMatch(/Comes after A-60 name of A-60/);
    expect(why).toMatch(/wheelbuilding; Tove does not have that skill/);
    expect(why).toMatch(/stopped: D9/);
    expect(whyNotStart(bike(), operation('A-60'), tove)).toEqual([]);
    expect(whyNotStart(bike({ blocked: 'on hold' }), operation('A-60'), undefined)).toHaveLength(2);
  });
  it('is no stop for the operation that is the stop, or mends it', () => {
    const stop = { ...blank, outcome: 'stop' };
    const own = operation('A-60', { readings: [{ value: value('stem'), points: [stop] }] });
    expect(whyNotStart(bike({ stops: ['stem of A-60'] }), own, tove)).toEqual([]);
    const checks = bike().checks.map((check) => ({ ...check, outcome: 'stop' }));
    expect(whyNotStart(bike({ stops: ['D4 stops'], checks }), operation('A-60'), tove)).toEqual([]);
    expect(whyNotStart(bike({ stops: ['D4 stops'], checks }), operation('A-61'), tove)).toHaveLength(1);
  });
  it('knows that a level includes those below', () => {
    expect(hasSkill(['L3'], 'L1')).toBe(true);
    expect(hasSkill(['L1', 'WB'], 'L2')).toBe(false);
    expect(hasSkill(['L3'], 'WB')).toBe(false);
  });
  it('counts what is not read, and what is outside', () => {
    const many = operation('A-41', { fault: 'kink', readings: [{ value: value('belt'), points: [{ ...blank, outcome: 'pass' }, blank] }, { value: value('stem'), points: [{ ...blank, outcome: 'fix' }] }] });
    expect(openIn(many)).toEqual(['belt: 1 of 2 points', 'stem is outside its limits', 'A fault is not mended: kink.']);
  });
  it('lets nobody pass a stop line over their own work', () => {
    const view = bike({ operations: [operation('A-60', { standing: 'done', doers: ['Tove'] })] });
    const [line] = view.checks;
    if (!line) throw new Error('the list is empty');
    expect(whyNotPass(view, line, tove).join()).toMatch(/second person/);
    expect(whyNotPass(view, line, { ...tove, name: 'Mara' })).toEqual([]);
    expect(whyNotPass(bike(), line, { ...tove, name: 'Mara' }).join()).toMatch(/proves A-60/);
  });
});
