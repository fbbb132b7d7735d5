import { memo } from '../frame/memo';
import { clockOf, dayShort, weekdayShort } from '../words/day';
import { planWords as t } from '../words/plan';
import { minuteOf, xOf } from './plan_axis';
import { fitted } from './plan_marks';
import { flagWords, kHead, kLevel, type PlanScene } from './plan_scene';

/** Patterns of the wall, once on a page; every drawing of it points here. */
export function WallPatterns() {
  return (
    <svg class="patterns" width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id="plan-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="pattern-hatch" d="M0 0V7" />
        </pattern>
        <pattern id="plan-shut" width="6" height="6" patternUnits="userSpaceOnUse">
          <path class="pattern-shut" d="M0 6L6 0" />
        </pattern>
        <pattern id="plan-untouched" width="5" height="5" patternUnits="userSpaceOnUse">
          <circle class="pattern-untouched" cx="2.5" cy="2.5" r="1.1" />
        </pattern>
      </defs>
    </svg>
  );
}

function DayHeads({ scene }: { scene: PlanScene }) {
  return (
    <g class="days">
      {scene.axis.days.map(({ day, x, width }) => {
        const [date] = dayShort(day).split('\u00a0');
        const words = width >= 84 ? `${weekdayShort(day)} ${dayShort(day)}` : width >= 62 ? `${weekdayShort(day)} ${date}` : date;
        return (
          <g key={day}>
            <path class="night" d={`M${x + 0.5} 0V${scene.bottom}`} />
            <text x={x + (width >= 62 ? 7 : 3)} y="22">{words}</text>
          </g>
        );
      })}
    </g>
  );
}

function Arrivals({ scene }: { scene: PlanScene }) {
  const { arrivals: { shown, more }, arrivalsBottom: bottom } = scene;
  return (
    <g class="arrivals">
      {shown.map(({ of, x, level, room }) => {
        const y = bottom - level * kLevel - 16;
        return (
          <g key={`${of.day} ${of.what}`} class={of.confirmed ? 'sure' : 'unsure'}>
            <path d={`M${x + 6} ${y}h10v6h-3l-2 6-2-6h-3Z`} />
            <text x={x + 22} y={y + 11}>{fitted(of.what, room - 32)}</text>
            <title>{`${of.what}, ${of.orders.join(', ')}, ${of.confirmed ? t.confirmed : t.notConfirmed}`}</title>
          </g>
        );
      })}
      {more.map(({ x, level, count }) => <text key={x} class="more" x={x + 22} y={bottom - level * kLevel - 5}>{t.more(count)}</text>)}
    </g>
  );
}

/** Flags of the days promised; that of the bike followed hangs down to the floor. */
function Promises({ scene, order }: { scene: PlanScene; order: string }) {
  return (
    <g class="promises">
      {scene.promises.map(({ of, x, level }) => {
        const y = scene.top - level * kLevel - 18;
        const bottom = of.order === order ? scene.bottom : scene.top;
        return (
          <g key={of.order} class={`${of.late ? 'late' : ''} ${of.order === order ? 'same' : ''}`}>
            <path class="pole" d={`M${x - 3} ${y}V${bottom}`} />
            <path class="cloth" d={of.late ? `M${x - 3} ${y}h-14l4 6-4 6h14Z` : `M${x - 3} ${y}l-14 6 14 6Z`} />
            <text x={x - 22} y={y + 11} text-anchor="end">{flagWords(of)}</text>
          </g>
        );
      })}
    </g>
  );
}

/** What lies behind the lanes and above them. */
export const WallHead = memo(function WallHead({ scene, order }: { scene: PlanScene; order: string }) {
  const { axis: { width }, arrivalsBottom, top } = scene;
  return (
    <>
      <path class="row-rule" d={`M0 ${kHead}.5H${width}M0 ${arrivalsBottom}.5H${width}M0 ${top}.5H${width}`} />
      <DayHeads scene={scene} />
      <Arrivals scene={scene} />
      <Promises scene={scene} order={order} />
    </>
  );
});

/** The part that does not move, and the time it is: both over the lanes. */
export const WallTimes = memo(function WallTimes({ scene }: { scene: PlanScene }) {
  const { axis, plan, top, bottom, height } = scene;
  const first = axis.days[0]?.from ?? 0;
  const last = axis.days.at(-1)?.to ?? 0;
  const [now, frozen] = [minuteOf(plan.now), minuteOf(plan.frozen_until)];
  const room = axis.days.findLast((day) => day.from < frozen)?.width ?? 0;
  const [xNow, xFrozen] = [xOf(axis, now), xOf(axis, frozen)];
  return (
    <>
      {now < frozen && first < frozen && frozen <= last && (
        <g class="frozen-part">
          <path d={`M${xFrozen} 4V${bottom + 6}`} />
          {room >= 140 && <text x={xFrozen - 7} y="22" text-anchor="end">{t.frozen}</text>}
        </g>
      )}
      {first <= now && now < last && (
        <g class="now">
          <path d={`M${xNow} ${top - 6}V${bottom + 2}`} />
          <text x={Math.max(2, xNow - 18)} y={height - 4}>{clockOf(plan.now)}</text>
        </g>
      )}
    </>
  );
});
