import type { ChangeOfDay, ChangeOfWork, PlanFigures, PlanView, ProposalView } from '../ask/ask';
import { orderPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { plain, short } from '../words/amount';
import { planWords } from '../words/plan';
import { PlanImprove } from './plan_improve';

const t = planWords.proposal;

/** Names of people by their id; the server names them by either. */
export const nameIn = (plan: PlanView) => (id: string) => plan.people.find((p) => p.id === id)?.name ?? id;

function DayChange({ change }: { change: ChangeOfDay }) {
  const words = [
    change.promised && t.promisedDay(change.promised),
    t.readyWas(change.ready_before, change.ready_after),
    change.kept_after !== null && t.kept(change.kept_after, change.kept_before),
    change.held_by && t.heldBy(change.held_by),
  ].filter(Boolean).join(', ');
  return (
    <li class={change.at_risk ? 'at-risk' : ''}>
      {change.at_risk && <Mark shape="flag" tone="stop" />}{' '}
      <a href={orderPath(change.order)}>{change.order}</a> {change.rider}: {words}.
    </li>
  );
}

const DayList = ({ changes }: { changes: ChangeOfDay[] }) => (
  <ul class="plain-list day-changes">{changes.map((one) => <DayChange key={one.order} change={one} />)}</ul>
);

/** New risks first and in full: they are what a person decides by. */
function Risks({ orders }: { orders: ChangeOfDay[] }) {
  const risky = orders.filter((one) => one.at_risk && !one.was_at_risk);
  if (risky.length === 0) return <p class="quiet">{t.noneAtRisk}</p>;
  return <><h3>{t.atRisk}</h3><DayList changes={risky} /></>;
}

function OldRisks({ orders }: { orders: ChangeOfDay[] }) {
  const risky = orders.filter((one) => one.at_risk && one.was_at_risk);
  if (risky.length === 0) return null;
  return <details><summary>{t.wereAtRisk(risky.length)}</summary><DayList changes={risky} /></details>;
}

function OtherDays({ orders }: { orders: ChangeOfDay[] }) {
  const others = orders.filter((one) => !one.at_risk);
  if (others.length === 0) return null;
  return <details><summary>{t.otherDays(others.length)}</summary><DayList changes={others} /></details>;
}

function WorkChanges({ proposal, name }: { proposal: ProposalView; name: (id: string) => string }) {
  const { changes } = proposal;
  const place = (who: string, moment: string | null, otherwise: string) =>
    (who && moment ? t.at(name(who), moment) : otherwise);
  const row = (change: ChangeOfWork) => (
    <tr key={`${change.order} ${change.operation}`}>
      <th scope="row">
        <a href={orderPath(change.order)}>{change.order}</a> {change.operation} <span class="small">{change.name}</span>
      </th>
      <td data-of={t.from}>{place(change.from_person, change.from, t.was)}</td>
      <td data-of={t.to}>{place(change.to_person, change.to, t.nowhere)}</td>
      <td data-of={t.because}>{change.because.join('; ')}</td>
    </tr>
  );
  return (
    <details open={proposal.reasons.length > 0}>
      <summary>{t.changes(changes.length)}</summary>
      {changes.length > 0 && (
        <table class="book fold">
          <thead>
            <tr>{[t.work, t.from, t.to, t.because].map((head) => <th key={head} scope="col">{head}</th>)}</tr>
          </thead>
          <tbody>{changes.map(row)}</tbody>
        </table>
      )}
      {proposal.same_day > 0 && <p class="quiet">{t.sameDay(proposal.same_day)}</p>}
    </details>
  );
}

/** Who lends a hand instead of whom, where person and day stay. */
function HandsChanges({ proposal }: { proposal: ProposalView }) {
  if (proposal.hands.length === 0) return null;
  return (
    <details>
      <summary>{t.hands(proposal.hands.length)}</summary>
      <ul class="plain-list">
        {proposal.hands.map((one) => (
          <li key={`${one.order} ${one.operation}`}>
            <a href={orderPath(one.order)}>{one.order}</a> {one.operation} {one.name}: {t.at(one.person, one.start)}, {t.lend(one.to, one.from)}
          </li>
        ))}
      </ul>
    </details>
  );
}

type Judged = Exclude<keyof PlanFigures, 'cost'>;

/** What each figure is weighed with. */
const kWeighed: [Judged, keyof PlanView['settings']][] = [
  ['days_late', 'day_late'], ['moved', 'moved'], ['kit_days', 'kit_day'], ['last_days', 'last_day'],
  ['uneven_hours', 'uneven_hour'],
];

/** The price in the terms by which every plan is judged. */
function Cost({ proposal }: { proposal: ProposalView }) {
  const c = planWords.cost;
  const { before, after, plan: { settings } } = proposal;
  return (
    <details class="plan-cost">
      <summary>{c.sum(before.cost, after.cost)}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{c.what}</th>
            {[c.before, c.after, c.weight].map((head) => <th key={head} scope="col" class="num">{head}</th>)}
          </tr>
        </thead>
        <tbody>
          {kWeighed.map(([figure, weight]) => (
            <tr key={figure} class={before[figure] === after[figure] ? '' : 'differs'}>
              <th scope="row">{c[figure]}</th><td class="num">{short(before[figure], 1)}</td>
              <td class="num">{short(after[figure], 1)}</td><td class="num">{short(settings[weight])}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{c.all}</th>
            <td class="num">{plain(before.cost, 1)}</td><td class="num">{plain(after.cost, 1)}</td><td />
          </tr>
        </tbody>
      </table>
    </details>
  );
}

interface ProposalProps {
  proposal: ProposalView;
  onBetter: (proposal: ProposalView) => void;
}

/** What a proposal changes, why, and what it costs; whoever shows it says how it is agreed. */
export function ProposalBody({ proposal, onBetter }: ProposalProps) {
  return (
    <div class="proposal">
      <p class="promise-sentence">{proposal.sentence}</p>
      {proposal.reasons.length > 0 && (
        <>
          <h3>{t.reasons}</h3>
          <ul class="plain-list">{proposal.reasons.map((one) => <li key={one.sentence}>{one.sentence}</li>)}</ul>
        </>
      )}
      <Risks orders={proposal.orders} />
      <div class="proposal-more">
        <Cost proposal={proposal} />
        <WorkChanges proposal={proposal} name={nameIn(proposal.plan)} />
        <HandsChanges proposal={proposal} />
        <OldRisks orders={proposal.orders} />
        <OtherDays orders={proposal.orders} />
        <PlanImprove proposal={proposal} onBetter={onBetter} />
      </div>
    </div>
  );
}
