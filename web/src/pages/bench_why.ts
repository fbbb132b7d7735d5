import type { BenchCheck, BenchOperation, BenchPerson, BenchView } from '../ask/ask';
import { bench as t } from '../words/bench';

const kLevels = ['L1', 'L2', 'L3'];

/** A mechanic's level includes those below. */
export function hasSkill(skills: string[], wanted: string): boolean {
  const level = kLevels.indexOf(wanted);
  return level < 0 ? skills.includes(wanted) : skills.some((one) => kLevels.indexOf(one) >= level);
}

const titleOf = (view: BenchView, id: string) => {
  const name = view.operations.find((one) => one.operation === id)?.name;
  return name ? `${id} ${name}` : id;
};

/** Stops that this operation neither is nor mends. */
function stopsElsewhere(view: BenchView, operation: BenchOperation): string[] {
  const stopped = (points: { outcome: string }[]) => points.some((point) => point.outcome === 'stop');
  const own = operation.readings.filter((reading) => stopped(reading.points)).length +
    view.checks.filter((check) => check.outcome === 'stop' && check.covers.includes(operation.operation)).length;
  return view.stops.length > own ? view.stops : [];
}

function lacksSkill(operation: BenchOperation, person: BenchPerson | undefined): string[] {
  if (!person) return [t.why.nobody];
  return hasSkill(person.skills, operation.skill) ? [] : [t.why.skill(operation.skill_words, person.name)];
}

/** What keeps this operation from being begun by this person, as far as it is known here. */
export function whyNotStart(view: BenchView, operation: BenchOperation, person: BenchPerson | undefined): string[] {
  const why: string[] = [];
  if (view.blocked) why.push(view.blocked);
  if (operation.waits_for.length > 0) why.push(t.why.after(operation.waits_for.map((id) => titleOf(view, id))));
  if (operation.fault) why.push(t.why.fault(operation.fault));
  const stops = stopsElsewhere(view, operation);
  if (stops.length > 0) why.push(t.why.stopped(stops));
  return [...why, ...lacksSkill(operation, person)];
}

/** Whether a person had a hand in the work that is running, and so may write into it. */
export const isAtIt = (operation: BenchOperation, person: BenchPerson | undefined) =>
  operation.standing === 'running' && person !== undefined && operation.doers.includes(person.name);

/** Whether it takes more people at once than are named, and nobody said why not. */
export const lacksHands = (operation: BenchOperation) =>
  operation.no_helper === '' && operation.helpers.length + 1 < operation.hands;

/** What is still open before it is done. */
export function openIn(operation: BenchOperation): string[] {
  const open: string[] = [];
  for (const { value, points } of operation.readings) {
    const taken = points.filter((point) => point.outcome !== '').length;
    if (points.some((point) => point.outcome === 'fix' || point.outcome === 'stop')) open.push(t.why.outside(value.name));
    else if (taken < points.length) open.push(points.length === 1 ? t.why.notRead(value.name) : t.why.points(value.name, taken, points.length));
  }
  if (operation.fault) open.push(t.why.fault(operation.fault));
  if (lacksHands(operation)) open.push(t.why.hands(operation.hands));
  return open;
}

const hadHandIn = (operation: BenchOperation, person: BenchPerson) =>
  operation.doers.includes(person.name) || operation.helpers.includes(person.name);

/** Operations of this bike in which the person had a hand: an audit is for somebody else. */
export const handIn = (view: BenchView, person: BenchPerson | undefined): string[] =>
  (person ? view.operations.filter((one) => hadHandIn(one, person)).map((one) => one.operation) : []);

/** What keeps this line of a list from being passed by this person. */
export function whyNotPass(view: BenchView, check: BenchCheck, person: BenchPerson | undefined): string[] {
  const covered = view.operations.filter((one) => check.covers.includes(one.operation));
  const open = covered.filter((one) => one.standing !== 'done').map((one) => titleOf(view, one.operation));
  const why: string[] = [];
  if (!person) why.push(t.why.nobody);
  if (open.length > 0) why.push(t.why.proves(open));
  if ((check.outcome === 'fix' || check.outcome === 'stop') && check.covers.length > 0) why.push(t.why.redoFirst(check.covers));
  const mine = check.mark === 'S' && person ? covered.filter((one) => one.doers.includes(person.name)) : [];
  if (person && mine.length > 0) why.push(t.why.ownWork(person.name, mine.map((one) => titleOf(view, one.operation))));
  const lent = check.mark === 'S' && person ? covered.filter((one) => one.helpers.includes(person.name) && !mine.includes(one)) : [];
  if (person && lent.length > 0) why.push(t.why.lentHand(person.name, lent.map((one) => titleOf(view, one.operation))));
  return why;
}
