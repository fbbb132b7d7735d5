import { describe, expect, it } from 'vitest';
import type { OrderView, SheetStep } from '../ask/ask';
import { routeOf, truingPath, wheelCardPath } from '../frame/route';
import { endsToTrue, lacedEnds } from './wheel_links';

const orderWith = (...slots: string[]) =>
  ({ spec: { slots: slots.map((slot) => ({ slot, part: { id: 'X' } })) } }) as unknown as OrderView;

describe('the papers of wheels', () => {
  it('are there for wheels that are laced from a hub and a rim', () => {
    expect(lacedEnds(orderWith('rear_hub', 'rear_rim', 'front_wheel'))).toEqual(['rear']);
    expect(lacedEnds(orderWith('rear_hub'))).toEqual([]);
  });
  it('are there at the step that reads their tensions', () => {
    const step = { values: [{ reading: 'tension_tight_rear' }, { reading: 'dish_rear' }] } as unknown as SheetStep;
    expect(endsToTrue(step)).toEqual(['rear']);
  });
  it('have addresses that lead back to them', () => {
    expect(routeOf(wheelCardPath('2003', 'rear'))).toEqual({ page: 'wheel card', id: '2003', end: 'rear' });
    expect(routeOf('/orders/2003/wheels/middle').page).toBe('nothing');
    expect(routeOf(truingPath('2003', 'front'))).toEqual({ page: 'truing', order: '2003', wheel: 'front' });
    expect(routeOf(truingPath())).toEqual({ page: 'truing', order: '', wheel: 'rear' });
  });
});
