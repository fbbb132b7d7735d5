import { useMemo } from 'preact/hooks';
import type { PlanView } from '../ask/ask';
import { memo } from '../frame/memo';
import { planWords as t } from '../words/plan';
import type { By } from './plan_lanes';
import { perMinuteOf, planScene } from './plan_scene';
import { weeksOf } from './plan_weeks';
import { WallHead, WallTimes } from './wall_marks';
import { WallRows } from './wall_rows';

const kSheet = 1240;  // drawn so wide, then as wide as the paper
const kNames = 120;
const kNothing = new Set<string>();

function Week({ week, by }: { week: PlanView; by: By }) {
  const scene = useMemo(() => planScene(week, by, perMinuteOf(week, 'all', kSheet - kNames)), [week, by]);
  const [first, last] = [scene.axis.days[0]?.day ?? '', scene.axis.days.at(-1)?.day ?? ''];
  return (
    <figure class="plan-sheet">
      <figcaption><b>{t.paper(first, last)}</b> {week.standing}</figcaption>
      <svg viewBox={`0 0 ${kSheet} ${scene.height}`} aria-hidden="true">
        {scene.rows.map((row) => (
          <text key={row.lane.key} class="lane-name" x="0" y={row.y + 30}>
            {row.lane.title}
          </text>
        ))}
        <g transform={`translate(${kNames} 0)`}>
          <WallRows scene={scene} chosen="" order="" moved={kNothing} inHand="" entry="" />
          <WallHead scene={scene} order="" />
          <WallTimes scene={scene} />
        </g>
      </svg>
    </figure>
  );
}

/** The wall as it is printed: a sheet a week, on paper only. */
export const PrintedWall = memo(function PrintedWall({ plan, by }: { plan: PlanView; by: By }) {
  const weeks = useMemo(() => weeksOf(plan), [plan]);
  return (
    <div class="printed-wall" aria-hidden="true">
      {weeks.map((week) => <Week key={week.people[0]?.windows[0]?.from ?? week.first_day} week={week} by={by} />)}
    </div>
  );
});
