import { describe, expect, it } from 'vitest';
import { bar, day, local, plan } from '../../test/plan_example';
import type { PlanView } from '../ask/ask';
import { minuteOf, xOf } from './plan_axis';
import {
  chainPath, daysAway, ghostOf, neighbour, perMinuteOf, type Place, placeByKey, placeOf, placeUnder, planScene, samePlace,
} from './plan_scene';
import { weeksOf } from './plan_weeks';
import type { Work } from './plan_work';

const people = planScene(plan, 'people', 1);
const stands = planScene(plan, 'stands', 1);
const work = people.works.find((one) => one.key === '1 A-30') as Work;  // Mara, assembly 1, 14:00 to 15:00
const at = (clock: string) => minuteOf(local(clock));
const yOfLane = (scene: typeof people, key: string) => (scene.rows.find((row) => row.lane.key === key)?.y ?? 0) + 20;

describe('where a hand may let work down', () => {
  it('is another person and a step of the clock, and no stand in particular', () => {
    const place = placeUnder(people, work, placeOf(work), xOf(people.axis, at('10:02')), yOfLane(people, 'ole'));
    expect(place).toEqual({ person: 'ole', start: at('10:00'), stand: 0 });
  });
  it('is where it was, stand and all, when nothing has changed', () => {
    const place = placeUnder(people, work, placeOf(work), xOf(people.axis, at('14:03')), yOfLane(people, 'mara'));
    expect(samePlace(place, placeOf(work))).toBe(true);
  });
  it('is drawn to the end of other work on that lane', () => {
    const near = placeUnder(people, work, placeOf(work), xOf(people.axis, at('15:56')), yOfLane(people, 'mara'));
    expect(near.start).toBe(at('16:00'));
  });
  it('is on stands a stand of its own area, whichever lane is under the hand', () => {
    const place = placeUnder(stands, work, placeOf(work), xOf(stands.axis, at('10:00')), yOfLane(stands, 'wheel bench 1'));
    expect(place).toEqual({ person: 'mara', start: at('10:00'), stand: 2 });
  });
});

describe('the same by keys', () => {
  const from = placeOf(work);
  const key = (name: string, held: Place = from, scene = people) => placeByKey(scene, work, held, name, false);
  it('goes a step in time, and a lane up or down, not off the wall', () => {
    expect(key('ArrowRight')?.start).toBe(at('14:15'));
    expect(key('ArrowDown')).toEqual({ person: 'ole', start: at('14:00'), stand: 0 });
    expect(key('ArrowUp')).toEqual(from);
    expect(key('ArrowDown', from, stands)).toEqual({ person: 'mara', start: at('14:00'), stand: 2 });
  });
  it('leaves other keys alone', () => expect(key('Tab')).toBeUndefined());
  it('comes back to where it was the way it went', () => {
    const away = key('ArrowRight') ?? from;
    expect(samePlace(key('ArrowLeft', away) ?? away, from)).toBe(true);
  });
});

describe('what is in the hand', () => {
  it('lies over the hours of that person, a break left out', () => {
    const ghost = ghostOf(people, work, { person: 'ole', start: at('11:30'), stand: 0 });
    expect(ghost?.pieces.map((p) => [p.from - at('00:00'), p.to - p.from])).toEqual([[690, 30], [780, 30]]);
    expect(ghost?.row.lane.key).toBe('ole');
  });
  it('is drawn whole where nobody is at work, so that it is seen', () => {
    const ghost = ghostOf(people, work, { person: 'ole', start: at('12:30'), stand: 0 });
    expect(ghost?.pieces).toEqual([{ from: at('12:30'), to: at('13:30') }]);
  });
});

describe('the wall', () => {
  it('draws a day at least as wide as a week, and that as all', () => {
    const [one, week, all] = (['day', 'week', 'all'] as const).map((zoom) => perMinuteOf(plan, zoom, 1000));
    expect(one).toBeGreaterThanOrEqual(week ?? 0);
    expect(week).toBeGreaterThanOrEqual(all ?? 0);
  });
  it('walks from work to work along a lane and to the next', () => {
    expect(neighbour(people.rows, '1 A-20', 'ArrowRight')?.key).toBe('1 A-30');
    expect(neighbour(people.rows, '1 A-20', 'ArrowLeft')).toBeUndefined();
    expect(neighbour(people.rows, '2 W-10', 'ArrowDown')?.key).toBe('3 A-20');
  });
  it('links a bike from each end to the next start, a lone operation to nothing', () => {
    expect(chainPath(people, '1').match(/M/g)).toHaveLength(1);
    expect(chainPath(people, '3')).toBe('');
  });
  it('knows who is off while others work', () => {
    const alone: PlanView = { ...plan, people: plan.people.map((p) => (p.id === 'ole' ? { ...p, windows: [] } : p)) };
    const scene = planScene(alone, 'people', 1);
    expect(scene.rows.map((row) => daysAway(scene, row).map((d) => d.day))).toEqual([[], [day]]);
  });
});

describe('the plan on paper', () => {
  it('is cut on Mondays, with the work and the flags of each week', () => {
    const later = '2026-11-30';  // a Monday
    const [mara] = plan.people;
    if (!mara) throw new Error('nobody');
    const monday = { from: `${later}T09:00`, to: `${later}T12:00` };
    const two = weeksOf({
      ...plan,
      people: [{ ...mara, windows: [...mara.windows, monday], bars: [...mara.bars, { ...bar('4', 'A-10', '09:00', '10:00'), ...monday, start: monday.from, end: monday.to }] }],
    });
    expect(two.map((week) => week.people[0]?.bars.length)).toEqual([4, 1]);
    expect(two.map((week) => week.orders.map((o) => o.order))).toEqual([['1', '2'], []]);
  });
});
