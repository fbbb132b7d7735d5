import type { BenchOperation, BenchPoint, BenchReading, BenchView, DeedGiven } from '../ask/ask';
import { type Landed, notYetSeen, type Write } from '../ask/waiting_writes';
import { typedValue, verdictOf } from './reading_state';

/**
 * A bike as it will be once what waits in this browser is written, and as it is with what the server
 * wrote since the view was asked for; for display until the next view is here.
 */
export interface Ahead {
  view: BenchView;
  waits: ReadonlySet<string>;  // operations, check lines, places and "operation reading point" that wait
}

export const pointKey = (operation: string, reading: string, point: number) => `${operation} ${reading} ${point}`;

const kBlank: BenchPoint = { value: null, text: '', outcome: '', who: '', at: '', tool: '' };

function readInto(reading: BenchReading, deed: DeedGiven, who: string): BenchReading {
  const at = Math.max(1, deed.point ?? 1) - 1;
  const [number = '', ...unit] = (deed.value ?? '').split(' ');
  const read = typedValue(number, unit.join(' ') || reading.value.unit);
  const failed = reading.value.stop ? 'stop' : 'fix';
  const outcome = reading.value.pass_or_fail
    ? (deed.outcome === 'pass' ? 'pass' : failed)
    : read === undefined ? '' : verdictOf(reading.value, read);
  const taken: BenchPoint = { value: read ?? null, text: deed.value ?? '', outcome, who, at: deed.at ?? '', tool: deed.tool ?? '' };
  return { ...reading, points: reading.points.map((point, i) => (i === at ? taken : point)) };
}

const cleared = (readings: BenchReading[]) =>
  readings.map((reading) => ({ ...reading, points: reading.points.map(() => kBlank) }));

const idle = { running: '', running_since: '' };

function worked(now: BenchOperation, deed: DeedGiven, who: string, hand: string): BenchOperation {
  const note = deed.note ?? '';
  switch (deed.deed) {
    case 'started': return { ...now, standing: 'running', because: '', running: who, running_since: deed.at ?? '', doers: [...new Set([...now.doers, who])] };
    case 'paused': return { ...now, ...idle, standing: 'paused', because: note };
    case 'done': return { ...now, ...idle, standing: 'done', because: '' };
    case 'read': return { ...now, readings: now.readings.map((one) => (one.value.reading === deed.reading ? readInto(one, deed, who) : one)) };
    case 'redo': return { ...now, ...idle, standing: 'redo', because: note, doers: [], helpers: [], no_helper: '', readings: cleared(now.readings) };
    case 'fault': return { ...now, ...idle, standing: 'paused', because: note, fault: note };
    case 'mended': return { ...now, fault: '' };
    case 'hand': return hand ? { ...now, helpers: [...new Set([...now.helpers, hand])], no_helper: '' } : { ...now, no_helper: note };
    case 'left out': return { ...now, standing: 'done', because: note };
    default: return now;
  }
}

function told(view: BenchView, deed: DeedGiven, who: string, hand: string): BenchView {
  const about = deed.about ?? '';
  const at = deed.at ?? '';
  switch (deed.deed) {
    case 'kitted':
    case 'on':
      return { ...view, kit: view.kit.map((part) => (part.slot === about
        ? { ...part, bound: true, serial: deed.serial ?? '', lot: deed.lot ?? '', came_by: '', since: at, who } : part)) };
    case 'off':
      return { ...view, kit: view.kit.map((part) => (part.slot === about
        ? { ...part, bound: false, serial: '', lot: '', came_by: '', here: '', seen: [] } : part)) };
    case 'paired': return { ...view, paired: [...new Set([...view.paired, about])] };
    case 'checked':
      return { ...view, checks: view.checks.map((check) => (check.id === about
        ? { ...check, outcome: deed.outcome ?? '', who, at, note: deed.note ?? '', because: '' } : check)) };
    default:
      return { ...view, operations: view.operations.map((now) => (now.operation === about ? worked(now, deed, who, hand) : now)) };
  }
}

/** What waits only for operations that are done opens. */
function opened(operations: BenchOperation[]): BenchOperation[] {
  const done = new Set(operations.filter((now) => now.standing === 'done').map((now) => now.operation));
  return operations.map((now) => {
    const waitsFor = now.waits_for.filter((before) => !done.has(before));
    if (waitsFor.length === now.waits_for.length) return now;
    const opens = now.standing === 'not yet' && waitsFor.length === 0;
    return { ...now, waits_for: waitsFor, standing: opens ? 'open' : now.standing };
  });
}

/** `nameOf`: the name of a person of the shop by id. */
export function aheadOf(view: BenchView, writes: Write[], nameOf: (id: string) => string, landed: Landed[] = []): Ahead {
  const waits = new Set<string>();
  const hand = (deed: DeedGiven) => (deed.hand ? nameOf(deed.hand) : '');
  let now = view;
  for (const { write } of notYetSeen(landed, view.order, view.last)) {
    if (write.order !== view.order) continue;
    for (const deed of write.deeds) now = told(now, deed, nameOf(write.who), hand(deed));
  }
  for (const write of writes) {
    if (write.order !== view.order || write.refused !== '') continue;
    for (const deed of write.deeds) {
      now = told(now, deed, nameOf(write.who), hand(deed));
      waits.add(deed.about ?? '');
      if (deed.deed === 'read') waits.add(pointKey(deed.about ?? '', deed.reading ?? '', Math.max(1, deed.point ?? 1)));
    }
  }
  if (now === view) return { view, waits };
  const operations = opened(now.operations);
  return { view: { ...now, operations, done: operations.filter((one) => one.standing === 'done').length }, waits };
}
