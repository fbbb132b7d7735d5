import type { RefObject } from 'preact';
import { useMemo } from 'preact/hooks';
import { planWords as t } from '../words/plan';
import type { LaneRow } from './plan_lanes';
import { chainPath, kHead, type PlanScene } from './plan_scene';
import type { Work } from './plan_work';
import { OldPlaces } from './wall_ghost';
import { WallHead, WallTimes } from './wall_marks';
import { type RowsProps, WallRows } from './wall_rows';

export interface WallHandlers {
  onPointerDown: (event: PointerEvent) => void;
  onPointerMove: (event: PointerEvent) => void;
  onPointerUp: (event: PointerEvent) => void;
  onPointerCancel: (event: PointerEvent) => void;
  onClick: (event: MouseEvent) => void;
  onFocusIn: (event: FocusEvent) => void;
  onKeyDown: (event: KeyboardEvent) => void;
}

interface WallProps extends RowsProps {
  old: Work[];  // where the moved work stands as agreed
  handlers: WallHandlers;
  scroller: RefObject<HTMLDivElement | null>;
  paper: RefObject<SVGSVGElement | null>;
  children?: preact.ComponentChildren;  // what is in the hand
}

const LaneName = ({ row }: { row: LaneRow }) => (
  <div class="person" style={{ height: `${row.height}px` }}>
    <b>{row.lane.title}</b><span>{row.lane.area && row.lane.stand === 0 ? t.severalStands : row.lane.note}</span>
  </div>
);

/** Names of the rows; they stay while the paper is moved along. */
function Names({ scene }: { scene: PlanScene }) {
  return (
    <div class="wall-names" aria-hidden="true">
      <div style={{ height: `${kHead}px` }} />
      <div style={{ height: `${scene.arrivalsBottom - kHead}px` }} class="row-name">{t.arrivals}</div>
      <div style={{ height: `${scene.top - scene.arrivalsBottom}px` }} class="row-name">{t.promises}</div>
      {scene.rows.map((row) => <LaneName key={row.lane.key} row={row} />)}
    </div>
  );
}

/** Lanes down, working time across; nights are folded away. */
export function WallPlan({ old, handlers, scroller, paper, children, ...rows }: WallProps) {
  const { scene, order } = rows;
  const chain = useMemo(() => (order ? chainPath(scene, order) : ''), [scene, order]);
  return (
    <div class={order ? 'wall following' : 'wall'}>
      <Names scene={scene} />
      <div ref={scroller} class="wall-paper" role="region" aria-label={t.wall} tabIndex={0}>
        <svg ref={paper} width={scene.axis.width + 2} height={scene.height} role="group" aria-label={t.title} {...handlers}>
          <WallRows {...rows} />
          <WallHead scene={scene} order={order} />
          <OldPlaces scene={scene} works={old} />
          {chain && <path class="chain" d={chain} />}
          <WallTimes scene={scene} />
          {children}
        </svg>
      </div>
    </div>
  );
}
