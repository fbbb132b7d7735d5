import { memo } from '../frame/memo';
import { planWords as t } from '../words/plan';
import { type Axis, localOf, type Span, xOf } from './plan_axis';
import { type LaneRow, type Run, runsOf, stretchesOf } from './plan_lanes';
import { fitted } from './plan_marks';
import { daysAway, kBar, type PlanScene, yOf } from './plan_scene';
import type { Work } from './plan_work';

/** What each row of the wall is painted with: hours, work, and words on it. */
export const inWords = (work: Work) => [
  `${t.work(work.order, work.rider, work.operation, work.name)}, ${t.stretch(localOf(work.start), localOf(work.end))}`,
  work.others.length > 0 && t.with(work.others),
  work.frozen && t.frozen, work.pinned && t.pinned, work.late && t.late, work.cannot,
].filter(Boolean).join(', ');

const across = (axis: Axis, span: Span) => {
  const x = xOf(axis, span.from);
  return { x, width: Math.max(3, xOf(axis, span.to) - x) };
};

/** Hours in white; what is left is shut. A whole day away says so. */
function Hours({ scene, row }: { scene: PlanScene; row: LaneRow }) {
  const { axis } = scene;
  return (
    <g class="hours">
      <rect class="shut" x="0" y={row.y} width={axis.width} height={row.height - 2} />
      {row.lane.open.map((span) => {
        const { x, width } = across(axis, span);
        return <rect key={span.from} class="lane" x={x} y={row.y} width={width} height={row.height - 2} />;
      })}
      {row.lane.person && daysAway(scene, row).map((day) => day.width >= 40 && (
        <text key={day.day} class="off" x={day.x + day.width / 2} y={row.y + row.height / 2 + 4}>{t.off}</text>
      ))}
    </g>
  );
}

/** A late piece ends in a point: its shape says it without colour. */
function outlineOf({ x, width }: { x: number; width: number }, y: number, nose: number) {
  return `M${x} ${y}H${x + width - nose}L${x + width} ${y + kBar / 2}L${x + width - nose} ${y + kBar}H${x}Z`;
}

interface BarProps {
  axis: Axis;
  work: Work;
  y: number;
  marks: string;        // classes: same, chosen, moved, in-hand
  focusable: boolean;
}

const Bar = memo(function Bar({ axis, work, y, marks, focusable }: BarProps) {
  const pieces = work.pieces.map((piece) => across(axis, piece));
  const last = pieces.length - 1;
  const first = pieces[0];
  const end = pieces[last];
  if (!first || !end) return null;
  const nose = work.late ? Math.min(10, end.width / 3) : 0;
  const outline = pieces.map((piece, i) => outlineOf(piece, y, i === last ? nose : 0)).join('');
  const middle = y + kBar / 2;
  const waits = xOf(axis, work.waitsUntil) - (end.x + end.width);
  const kinds = `${work.late ? 'late' : ''} ${work.frozen ? 'frozen' : ''} ${work.cannot ? 'cannot' : ''}`;
  return (
    <g class={`work-bar ${kinds} ${marks}`} role="button" tabindex={focusable ? 0 : -1} data-key={work.key}
      aria-label={inWords(work)} aria-pressed={marks.includes('chosen')}>
      <title>{inWords(work)}</title>
      {last > 0 && <path class="over-pause" d={`M${first.x + first.width} ${middle}H${end.x}`} />}
      {waits > 1 && <path class="untouched" d={`M${end.x + end.width} ${y + kBar - 9}h${waits}v9h${-waits}Z`} />}
      <path class="shape" d={outline} />
      {work.frozen && <path class="hatch" d={outline} />}
      {work.cannot && <path class="strike" d={`M${first.x} ${y + kBar}L${end.x + end.width} ${y}`} />}
      {work.pinned && <path class="pin" d={`M${first.x + 7} ${y - 1}v9M${first.x + 3} ${y - 5}h8v5h-8Z`} />}
    </g>
  );
});

const kLeastWord = 42;  // pixels: four bold figures
const kLetter = 7.8;     // pixels of a letter of what is done, as broad as they come

/** Time of somebody who lends a hand: taken, and told of in the lane of who does the work. */
function Lent({ axis, work, y }: { axis: Axis; work: Work; y: number }) {
  const words = t.lends(t.workShort(work.order, work.operation));
  const { x, width } = across(axis, { from: work.start, to: work.end });
  return (
    <g class="lent-bar" role="img" aria-label={`${words}, ${t.stretch(localOf(work.start), localOf(work.end))}`}>
      <title>{words}</title>
      <rect class="shape" x={x} y={y + 6} width={width} height={kBar - 12} />
      {width >= kLeastWord + 12 && <text x={x + 6} y={y + kBar / 2 + 5}>{fitted(words, width - 10, 8)}</text>}
    </g>
  );
}

const kOverBreak = 40;  // minutes

/** What is done, on each piece that has room; on none, all of it along the run. */
function Names({ axis, run, x, y, room }: { axis: Axis; run: Run; x: number; y: number; room: number }) {
  const late = run.works[0]?.late ?? false;
  const each = run.works.map((work) => ({ work, ...across(axis, work.pieces[0] ?? { from: work.start, to: work.end }) }));
  const broad = each.filter(({ width }) => width - 10 >= kLeastWord);
  if (broad.length < 2 || late) {
    const names = run.works.map((work) => work.name).join(', ');
    return late
      ? <text x={x} y={y + 35}><tspan class="word">{t.late}</tspan>{fitted(`, ${names}`, room - 30, kLetter)}</text>
      : <text x={x} y={y + 35}>{fitted(names, room, kLetter)}</text>;
  }
  return <>{broad.map((one) => <text key={one.work.key} x={one.x + 6} y={y + 35}>{fitted(one.work.name, one.width - 10, kLetter)}</text>)}</>;
}

/** Number and rider once for a run of work, and what is done; upright where it is narrow. */
function RunWords({ axis, run, y }: { axis: Axis; run: Run; y: number }) {
  const first = run.works[0];
  if (!first) return null;
  // Words keep to one stretch: over a pause there is no paper to write on.
  const { x, width } = stretchesOf(run).map((stretch) => across(axis, stretch)).reduce((a, b) => (b.width > a.width ? b : a));
  const room = width - 12;
  const pin = first.pinned ? 8 : 0;
  if (width < 17) return null;
  if (room < kLeastWord) return <text class="strong upright" transform={`translate(${x + width / 2 + 5} ${y + 38}) rotate(-90)`}>{first.order}</text>;
  return (
    <>
      <text x={x + 6 + pin} y={y + 18} class="strong">
        {room < 84 ? first.order : fitted(`${first.order} ${first.rider}`, room - pin, 8.6)}
      </text>
      <Names axis={axis} run={run} x={x + 6} y={y} room={room} />
    </>
  );
}

/** Around work of one bike that goes on from piece to piece; what parts the pieces is drawn lightly. */
function RunEdge({ axis, run, y }: { axis: Axis; run: Run; y: number }) {
  if (run.works.length < 2 || run.works.some((work) => work.late || work.cannot)) return null;
  const edge = stretchesOf(run).map((stretch) => across(axis, stretch)).map(({ x, width }) => `M${x} ${y}h${width}v${kBar}h${-width}Z`);
  return <path class="run-edge" d={edge.join('')} />;
}

export interface RowsProps {
  scene: PlanScene;
  chosen: string;         // key of the work
  order: string;          // whose chain is followed
  moved: Set<string>;     // stands elsewhere than agreed
  inHand: string;         // key
  entry: string;          // where the keyboard comes in
}

/** Over lines the words want paper round them; of another bike than the one followed they step back. */
const wordsClass = (run: Run, order: string) =>
  [(run.works[0]?.frozen || run.works.length > 1) && 'on-lines', order && run.works[0]?.order !== order && 'other'].filter(Boolean).join(' ');

const inRuns = (runs: Run[]) => new Set(runs.filter((run) => run.works.length > 1).flatMap((run) => run.works.map((work) => work.key)));

function marksOf(work: Work, { chosen, order, moved, inHand }: RowsProps): string {
  return [
    order === work.order && 'same', order && order !== work.order && 'other',
    chosen === work.key && 'chosen', moved.has(work.key) && 'moved', inHand === work.key && 'in-hand',
  ].filter(Boolean).join(' ');
}

export const WallRows = memo(function WallRows(props: RowsProps) {
  const { scene, entry } = props;
  return (
    <>
      {scene.rows.map((row) => {
        const runs = runsOf(row.works, kOverBreak);
        const within = inRuns(runs);
        return (
        <g key={row.lane.key} role="group" aria-label={t.label(row.lane.title)}>
          <Hours scene={scene} row={row} />
          {row.lent.map((work) => <Lent key={work.key} axis={scene.axis} work={work} y={yOf(row)} />)}
          {row.works.map(({ work, level }) => (
            <Bar key={work.key} axis={scene.axis} work={work} y={yOf(row, level)}
              marks={`${marksOf(work, props)} ${within.has(work.key) ? 'in-run' : ''}`} focusable={entry === work.key} />
          ))}
          <g class="run-words" aria-hidden="true">
            {runs.map((run) => (
              <g key={run.works[0]?.key} class={wordsClass(run, props.order)}>
                <RunEdge axis={scene.axis} run={run} y={yOf(row, run.level)} />
                <RunWords axis={scene.axis} run={run} y={yOf(row, run.level)} />
              </g>
            ))}
          </g>
        </g>
        );
      })}
    </>
  );
});
