import type { PlanView } from '../ask/ask';
import type { By } from '../drawing/plan_lanes';
import type { Zoom } from '../drawing/plan_scene';
import { dayInWords } from '../words/day';
import { planWords as t } from '../words/plan';
import { daysOf } from './plan_by_day';

/** How the plan is looked at; nothing of it changes the plan. */
export interface Look {
  show: 'wall' | 'list';
  by: By;
  zoom: Zoom;
  bike: string;       // whose chain is followed; empty: that of the work chosen
  day: string;        // of the list
  proposed: boolean;  // a proposal is shown in place of the plan
}

interface ToolsProps {
  plan: PlanView;
  look: Look;
  onLook: (look: Look) => void;
  compares: boolean;  // there is a proposal to be shown
}

function Choice<T extends string | boolean>({ label, now, options, onNow }: {
  label: string; now: T; options: [T, string][]; onNow: (value: T) => void;
}) {
  return (
    <div class="words" role="group" aria-label={label}>
      {options.map(([value, words]) => (
        <button key={words} type="button" aria-pressed={value === now} onClick={() => onNow(value)}>{words}</button>
      ))}
    </div>
  );
}

export function PlanTools({ plan, look, onLook, compares }: ToolsProps) {
  const put = (part: Partial<Look>) => onLook({ ...look, ...part });
  return (
    <div class="plan-tools">
      <Choice label={t.show} now={look.show} options={[['wall', t.wall], ['list', t.list]]} onNow={(show) => put({ show })} />
      {look.show === 'wall' && (
        <>
          <Choice label={t.lanes} now={look.by} options={[['people', t.people], ['stands', t.stands]]} onNow={(by) => put({ by })} />
          <Choice label={t.zoom} now={look.zoom} options={[['day', t.day], ['week', t.week], ['all', t.all]]} onNow={(zoom) => put({ zoom })} />
          <label class="follow">{t.bike}{' '}
            <select value={look.bike} onChange={(event) => put({ bike: event.currentTarget.value })}>
              <option value="">{t.noBike}</option>
              {plan.orders.map(({ order, rider }) => <option key={order} value={order}>{order} {rider}</option>)}
            </select>
          </label>
        </>
      )}
      <label class="follow">{t.goTo}{' '}
        <select value={look.day} onChange={(event) => put({ day: event.currentTarget.value })}>
          {daysOf(plan).map((one) => <option key={one} value={one}>{dayInWords(one)}</option>)}
        </select>
      </label>
      {compares && (
        <Choice label={t.proposal.shows} now={look.proposed} options={[[true, t.proposal.asProposed], [false, t.proposal.asAgreed]]}
          onNow={(proposed) => put({ proposed })} />
      )}
      <button type="button" class="plain" onClick={() => print()}>{t.print}</button>
    </div>
  );
}
