import { planWords as t } from '../words/plan';
import { localOf, xOf } from './plan_axis';
import { ghostOf, kBar, type Place, type PlanScene, yOf } from './plan_scene';
import type { Work } from './plan_work';

/** How the place is answered: not yet, it lands, it does not. */
export type Verdict = 'asking' | 'lands' | 'no' | 'unasked';

interface GhostProps {
  scene: PlanScene;
  work: Work;
  place: Place;
  verdict: Verdict;
}

const kVerdict: Record<Verdict, string> = { asking: '…', lands: t.move.lands, no: t.move.no, unasked: '' };

/** Work in the hand: where it would lie, and in words whether it lands. */
export function Ghost({ scene, work, place, verdict }: GhostProps) {
  const ghost = ghostOf(scene, work, place);
  if (!ghost) return null;
  const y = yOf(ghost.row);
  const pieces = ghost.pieces.map((piece) => {
    const x = xOf(scene.axis, piece.from);
    return { x, width: Math.max(4, xOf(scene.axis, piece.to) - x) };
  });
  const first = pieces[0];
  if (!first) return null;
  const words = `${t.shortMoment(localOf(place.start))} ${kVerdict[verdict]}`;
  const left = first.x + 8 * words.length > scene.axis.width;
  return (
    <g class={`ghost ${verdict}`} aria-hidden="true">
      <path class="plumb" d={`M${first.x} ${scene.top - 6}V${scene.bottom}`} />
      {pieces.map(({ x, width }) => <path key={x} class="shape" d={`M${x} ${y}h${width}v${kBar}h${-width}Z`} />)}
      {verdict === 'no' && <path class="cross" d={`M${first.x} ${y + kBar}l${first.width} ${-kBar}M${first.x} ${y}l${first.width} ${kBar}`} />}
      <text x={left ? first.x + first.width : first.x + 2} y={y - 4} text-anchor={left ? 'end' : 'start'}>{words}</text>
    </g>
  );
}

/** Where work stands as agreed, while the wall shows it elsewhere. */
export function OldPlaces({ scene, works }: { scene: PlanScene; works: Work[] }) {
  return (
    <g class="old-places" aria-hidden="true">
      {works.map((work) => {
        const ghost = ghostOf(scene, work, { person: work.person, start: work.start, stand: work.stand });
        return ghost && work.pieces.map(({ from, to }) => {
          const x = xOf(scene.axis, from);
          return <rect key={`${work.key} ${from}`} x={x} y={yOf(ghost.row)} width={Math.max(3, xOf(scene.axis, to) - x)} height={kBar} />;
        });
      })}
    </g>
  );
}
