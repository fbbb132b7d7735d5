import { useEffect, useMemo, useState } from 'preact/hooks';
import { ask, type PlanView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { localOf } from '../drawing/plan_axis';
import { movedAgainst, type Work, worksOf } from '../drawing/plan_work';
import { WallKey } from '../drawing/wall_key';
import { WallPatterns } from '../drawing/wall_marks';
import { PrintedWall } from '../drawing/wall_paper';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { loadWords } from '../words/load';
import { planWords as t } from '../words/plan';
import { PlanAbsence } from './plan_absence';
import { firstDay, PlanByDay } from './plan_by_day';
import { PlanCalendars } from './plan_calendars';
import { type PlanDesk, usePlanDesk } from './plan_desk';
import { nameIn } from './plan_proposal';
import { PlanSlip } from './plan_slip';
import { ArrivalList, PromiseTable } from './plan_tables';
import { type Look, PlanTools } from './plan_tools';
import { PlanWeights } from './plan_weights';
import { WallOf } from './plan_wall';

const kNarrow = 760;
const kNone = new Set<string>();

/** What has become of the plan since it was agreed, and the one thing to do about it. */
function Standing({ plan, desk }: { plan: PlanView; desk: PlanDesk }) {
  const due = plan.number === 0 || plan.out_of_date.length > 0;
  return (
    <div class={plan.out_of_date.length > 0 ? 'plan-standing out' : 'plan-standing'}>
      <p>{plan.standing}</p>
      {plan.out_of_date.length > 0 && (
        <ul>
          {plan.out_of_date.map((one) => <li key={one.sentence}><Mark shape="gap" tone="care" /> {one.sentence}</li>)}
        </ul>
      )}
      <p class="deeds">
        <button type="button" class={due ? 'do' : 'plain'} disabled={desk.open !== undefined} onClick={desk.planAnew}>
          {plan.number === 0 ? t.proposal.askFirst : t.proposal.ask}
        </button>
      </p>
    </div>
  );
}

/** Says what the hand does, for who does not see it. */
function useTold(plan: PlanView, desk: PlanDesk) {
  const { move, say } = desk;
  const name = nameIn(plan);
  useEffect(() => {
    if (move.at === 'rest' || move.hand === 'form') return;
    const { work, place, answer } = move;
    const over = t.move.over(name(place.person), t.stand(work.area, place.stand), localOf(place.start));
    // Why it does not land is told by the slip itself.
    const outcome = answer?.lands ? `${t.move.lands} ${answer.proposal.sentence}` : '';
    const fresh = place.start === work.start && place.person === work.person && place.stand === work.stand;
    say(fresh && move.at === 'held' && move.hand === 'keys'
      ? t.move.picked(t.workShort(work.order, work.operation)) : `${over} ${outcome}`.trim());
  }, [move]);
  // Back where it was: nothing is kept, and that is said too.
  const [last, setLast] = useState<Work | undefined>(undefined);
  useEffect(() => {
    if (move.at !== 'rest') return setLast(move.work);
    if (last && !desk.said.includes(t.move.kept(''))) say(t.move.back(t.workShort(last.order, last.operation)));
    setLast(undefined);
  }, [move.at]);
}

function Shown({ plan, onPlan }: { plan: PlanView; onPlan: (plan: PlanView) => void }) {
  const desk = usePlanDesk(plan, onPlan);
  const [look, setLook] = useState<Look>(() => ({
    show: innerWidth <= kNarrow ? 'list' : 'wall', by: 'people', zoom: 'week', bike: '', day: firstDay(plan), proposed: true,
  }));
  const [chosen, setChosen] = useState('');
  const agreed = useMemo(() => worksOf(plan), [plan]);
  const proposed = desk.proposal && look.proposed ? desk.proposal.plan : undefined;
  const shown = proposed ?? plan;
  const works = useMemo(() => worksOf(shown), [shown]);
  const moved = useMemo(() => (proposed ? movedAgainst(works, agreed) : kNone), [proposed, works, agreed]);
  const old = useMemo(() => (proposed ? agreed.filter((work) => moved.has(work.key)) : []), [proposed, moved, agreed]);
  useTold(plan, desk);
  const choose = (work: Work) => {
    if (desk.move.at === 'rest') setChosen(work.key);
  };
  const work = agreed.find((one) => one.key === chosen);
  const order = look.bike || work?.order || '';
  return (
    <>
      <p class="lead">{shown.sentence}</p>
      <Standing plan={plan} desk={desk} />
      <PlanTools plan={plan} look={look} onLook={setLook} compares={desk.proposal !== undefined} />
      <WallPatterns />
      {look.show === 'wall'
        ? (
          <>
            <WallOf plan={shown} by={look.by} zoom={look.zoom} day={look.day} desk={desk}
              chosen={chosen} order={order} moved={moved} old={old} onChoose={choose} />
            <WallKey />
          </>
        ) : (
          <PlanByDay plan={shown} works={works} day={look.day} chosen={chosen} moved={moved}
            onDay={(day) => setLook({ ...look, day })} onChoose={choose} />
        )}
      <PrintedWall plan={plan} by={look.by} />
      <p class="unseen" role="status">{desk.said}</p>
      <PlanSlip plan={plan} desk={desk} chosen={work} onClose={() => setChosen('')} />
      <div class="two-columns"><PromiseTable plan={plan} /><ArrivalList plan={plan} /></div>
      <div class="plan-mores">
        <PlanAbsence plan={plan} onPlan={onPlan} />
        <PlanWeights plan={plan} onPlan={onPlan} />
        <PlanCalendars plan={plan} />
      </div>
    </>
  );
}

export function PlanPage() {
  const answered = useAnswer('plan', ask.plan);
  return (
    <div class="page plan">
      <div class="title-line"><h1>{t.title}</h1><a href="/plan/load">{loadWords.link}</a></div>
      <Body answered={answered}>
        {(plan) => (plan.people.length === 0 ? <p>{t.none}</p> : <Shown plan={plan} onPlan={answered.put} />)}
      </Body>
    </div>
  );
}
