import { useMemo, useRef, useState } from 'preact/hooks';
import type { PlanView } from '../ask/ask';
import { orderPath } from '../frame/route';
import { go } from '../frame/travel';
import { useWidth } from '../frame/use_width';
import { clockOf, dayShort, momentInWords, weekdayShort } from '../words/day';
import { say } from '../words/say';
import {
  type Block, blocksOf, fitted, levelsOf, planScene, type PlanScene, arrivalStacks, type ArrivalStacks, stackedPromises,
} from './plan_scene';

const t = say.plan;
const kLane = 60;
const kHead = 34;
const kLevel = 22;

export type Zoom = 'day' | 'week';
const kPixelsPerMinute = 1.35;
const kLeastPerMinute = 0.2;

/** Days at a readable size; weeks as large as the wall allows. */
function pixelsPerMinute(plan: PlanView, zoom: Zoom, wall: number): number {
  if (zoom === 'day') return kPixelsPerMinute;
  const whole = planScene(plan, 1).width;
  return whole > 0 ? Math.min(kPixelsPerMinute, Math.max(kLeastPerMinute, (wall - 2) / whole)) : kLeastPerMinute;
}

const inWords = (block: Block) =>
  t.bar(block.order, block.rider, block.names.join(', '), momentInWords(block.from), momentInWords(block.to));

interface BlockProps {
  block: Block;
  y: number;
  same: boolean;
  focusable: boolean;
  onPoint: (block: Block | undefined) => void;
}

/** Number and rider, then what is done; a narrow block has its number upright, a sliver none. */
function BlockWords({ block, y, nose }: { block: Block; y: number; nose: number }) {
  const { x, width } = block;
  const room = width - 12 - nose / 2;
  if (width < 18) return null;
  if (room < 34) return <text aria-hidden="true" class="strong" transform={`translate(${x + width / 2 - nose / 4 + 5} ${y + 40}) rotate(-90)`}>{block.order}</text>;
  const names = block.names.join(', ');
  return (
    <g aria-hidden="true">
      <text x={x + 6} y={y + 19} class="strong">{room < 76 ? block.order : fitted(`${block.order} ${block.rider}`, room, 8)}</text>
      {block.late
        ? <text x={x + 6} y={y + 37}><tspan class="word">{t.late}</tspan>{fitted(`, ${names}`, room - 26)}</text>
        : <text x={x + 6} y={y + 37}>{fitted(names, room)}</text>}
    </g>
  );
}

function BlockMark({ block, y, same, focusable, onPoint }: BlockProps) {
  const { x, width } = block;
  const height = kLane - 14;
  // A late block ends in a point: its shape says it without colour.
  const nose = block.late ? Math.min(10, width / 3) : 0;
  const outline = `M${x} ${y}H${x + width - nose}L${x + width} ${y + height / 2}L${x + width - nose} ${y + height}H${x}Z`;
  return (
    <g class={`block ${block.late ? 'late' : ''} ${block.frozen ? 'frozen' : ''} ${same ? 'same' : ''}`}
      role="link" tabIndex={focusable ? 0 : -1} data-key={block.key}
      onFocus={() => onPoint(block)} onMouseEnter={() => onPoint(block)} onClick={() => go(orderPath(block.order))}>
      <title>{inWords(block)}</title>
      <path class="shape" d={outline} />
      {block.frozen && <path class="hatch" d={outline} />}
      <BlockWords block={block} y={y} nose={nose} />
    </g>
  );
}

function DayHeads({ scene, height, zoom }: { scene: PlanScene; height: number; zoom: Zoom }) {
  return (
    <g class="days">
      {scene.days.map((column) => (
        <g key={column.day}>
          <path class="night" d={`M${column.x + 0.5} 0V${height}`} />
          <text x={column.x + 7} y="22">{weekdayShort(column.day)} {zoom === 'week' && column.width < 80 ? dayShort(column.day).split('\u00a0')[0] : dayShort(column.day)}</text>
        </g>
      ))}
    </g>
  );
}

function Arrivals({ stacks, bottom }: { stacks: ArrivalStacks; bottom: number }) {
  return (
    <g class="arrivals">
      {stacks.shown.map(({ of, x, level, room }) => {
        const y = bottom - level * kLevel - 16;
        return (
          <g key={`${of.day} ${of.what}`} class={of.confirmed ? 'sure' : 'unsure'}>
            <path d={`M${x + 6} ${y}h10v6h-3l-2 6-2-6h-3Z`} />
            <text x={x + 22} y={y + 11}>{fitted(of.what, room - 32)}</text>
            <title>{`${of.what}, ${of.orders.join(', ')}, ${of.confirmed ? t.confirmed : t.notConfirmed}`}</title>
          </g>
        );
      })}
      {stacks.more.map(({ x, level, count }) => <text key={x} class="more" x={x + 22} y={bottom - level * kLevel - 5}>{t.more(count)}</text>)}
    </g>
  );
}

function Promises({ scene, plan, bottom }: { scene: PlanScene; plan: PlanView; bottom: number }) {
  return (
    <g class="promises">
      {stackedPromises(plan.orders, scene).map(({ of, x, level }) => {
        const y = bottom - level * kLevel - 18;
        const words = of.late ? `${of.order} ${t.late}` : of.order;
        return (
          <g key={of.order} class={of.late ? 'late' : ''}>
            <path class="pole" d={`M${x - 3} ${y}V${bottom}`} />
            <path class="cloth" d={of.late ? `M${x - 3} ${y}h-14l4 6-4 6h14Z` : `M${x - 3} ${y}l-14 6 14 6Z`} />
            <text x={x - 22} y={y + 11} text-anchor="end">{words}</text>
          </g>
        );
      })}
    </g>
  );
}

/** Next block for an arrow key: along the person, or the nearest in time of the person above or below. */
function neighbour(rows: Block[][], now: Block, key: string): Block | undefined {
  const row = rows.findIndex((blocks) => blocks.includes(now));
  const at = rows[row]?.indexOf(now) ?? 0;
  if (key === 'ArrowRight') return rows[row]?.[at + 1];
  if (key === 'ArrowLeft') return rows[row]?.[at - 1];
  const step = key === 'ArrowDown' ? 1 : key === 'ArrowUp' ? -1 : 0;
  if (step === 0) return undefined;
  for (let to = row + step; rows[to]; to += step) {
    const near = [...(rows[to] ?? [])].sort((a, b) => Math.abs(a.x - now.x) - Math.abs(b.x - now.x))[0];
    if (near) return near;
  }
  return undefined;
}

/** People down, working time across; closed time is folded away. */
export function WallPlan({ plan, zoom }: { plan: PlanView; zoom: Zoom }) {
  const { ref, width: wall } = useWidth<HTMLDivElement>(1200);
  const scene = useMemo(() => planScene(plan, pixelsPerMinute(plan, zoom, wall)), [plan, zoom, wall]);
  const rows = useMemo(() => plan.people.map((p) => blocksOf(p, scene, zoom === 'week')), [plan, scene, zoom]);
  const [pointed, setPointed] = useState<Block | undefined>(undefined);
  const paper = useRef<SVGSVGElement>(null);
  const stacks = useMemo(() => arrivalStacks(plan.arrivals, scene), [plan, scene]);
  const arrivalsBottom = kHead + levelsOf([...stacks.shown, ...stacks.more]) * kLevel + 8;
  const promisesBottom = arrivalsBottom + levelsOf(stackedPromises(plan.orders, scene)) * kLevel + 10;
  const height = promisesBottom + plan.people.length * kLane + 22;
  const entry = rows.flat().find((b) => b.key === pointed?.key) ?? rows.flat()[0];

  const onKeyDown = (event: KeyboardEvent) => {
    if (!entry) return;
    if (event.key === 'Enter') return go(orderPath(entry.order));
    const next = neighbour(rows, entry, event.key);
    if (!next) return;
    event.preventDefault();
    setPointed(next);
    const mark = paper.current?.querySelector<SVGGElement>(`[data-key="${CSS.escape(next.key)}"]`);
    mark?.focus();
    mark?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  };

  const frozenTo = scene.x(plan.frozen_until);
  const now = scene.x(plan.now);
  return (
    <div class="wall">
      <div class="wall-names" aria-hidden="true">
        <div style={{ height: `${kHead}px` }} />
        <div style={{ height: `${arrivalsBottom - kHead}px` }} class="row-name">{t.arrivals}</div>
        <div style={{ height: `${promisesBottom - arrivalsBottom}px` }} class="row-name">{t.promises}</div>
        {plan.people.map((p) => (
          <div key={p.id} class="person" style={{ height: `${kLane}px` }}><b>{p.name}</b><span>{p.skills.join(' ')}</span></div>
        ))}
      </div>
      <div ref={ref} class="wall-paper" role="region" aria-label={t.wall} tabIndex={0}>
        <svg ref={paper} width={scene.width + 2} height={height} role="group" aria-label={t.title} onKeyDown={onKeyDown}>
          <defs>
            <pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path d="M0 0V7" />
            </pattern>
          </defs>
          {plan.people.map((p, row) => scene.lanes.get(p.id)?.map((lane) => (
            <rect key={`${p.id} ${lane.x}`} class="lane" x={lane.x} width={lane.width} y={promisesBottom + row * kLane} height={kLane - 2} />
          )))}
          {frozenTo > 0 && <rect class="frozen-part" x="0" width={frozenTo} y={promisesBottom} height={plan.people.length * kLane} />}
          <path class="row-rule" d={`M0 ${kHead}.5H${scene.width}M0 ${arrivalsBottom}.5H${scene.width}M0 ${promisesBottom}.5H${scene.width}`} />
          <DayHeads scene={scene} height={height} zoom={zoom} />
          <Arrivals stacks={stacks} bottom={arrivalsBottom} />
          <Promises scene={scene} plan={plan} bottom={promisesBottom} />
          {rows.map((blocks, row) => (
            <g key={plan.people[row]?.id} role="group" aria-label={t.label(plan.people[row]?.name ?? '')}>
              {blocks.map((block) => (
                <BlockMark key={block.key} block={block} y={promisesBottom + row * kLane + 6} same={pointed?.order === block.order}
                  focusable={entry?.key === block.key} onPoint={setPointed} />
              ))}
            </g>
          ))}
          <g class="now"><path d={`M${now} ${promisesBottom - 6}V${height - 14}`} /><text x={Math.max(2, now - 18)} y={height - 3}>{clockOf(plan.now)}</text></g>
        </svg>
      </div>
      <p class="pointed" aria-hidden="true">{pointed ? inWords(pointed) : t.hint}</p>
    </div>
  );
}
