import type { FindingView, NumberView, OrderView, SpecView, StepView } from '../ask/ask';
import { hasPlaces } from '../drawing/clash_places';
import { memo } from '../frame/memo';
import { Mark, State, Verdict } from '../marks/mark';
import { Told } from '../marks/told';
import { useShop } from '../frame/shop';
import { mass, massUs, money } from '../words/amount';
import { dayWithYear } from '../words/day';
import { budgetInShort } from '../words/enquiry';
import { say } from '../words/say';

const t = say.order;

/** The road of the order: what is behind, where it is, what is to come. */
export function States({ states }: { states: StepView[] }) {
  return (
    <ol class="road" aria-label={t.states}>
      {states.map((step) => (
        <li key={step.state} class={step.current ? 'now' : step.reached ? 'behind' : 'ahead'}
          aria-current={step.current ? 'step' : undefined}>
          {step.current ? <State word={step.state} /> : step.state}
          <span class="unseen">, {step.current ? t.nowAt : step.reached ? t.done : t.toCome}</span>
        </li>
      ))}
    </ol>
  );
}

/** Who, what for, and the few numbers of the whole bike, as on a job card. */
export function JobCard({ view }: { view: OrderView }) {
  const { currency } = useShop();
  const { line, spec, need } = view;
  const rows: [string, string][] = [
    [t.price1, money(spec.price_cents, currency, false)],
    [t.massAll, `${mass(spec.mass_kg)} · ${massUs(spec.mass_kg)}`],
    ...(view.budget ? [[t.budget, budgetInShort(view.budget, currency)] as [string, string]] : []),
    ...(line.needed_by ? [[t.neededBy, dayWithYear(line.needed_by)] as [string, string]] : []),
    ...(line.promised ? [[t.agreeDay, dayWithYear(line.promised)] as [string, string]] : []),
    ...(view.deposit_cents > 0
      ? [[t.deposit, money(view.deposit_cents, currency)] as [string, string]] : []),
    ...(need.route ? [[t.route, need.route] as [string, string]] : []),
  ];
  return (
    <dl class="card">
      {rows.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}
    </dl>
  );
}

interface FindingProps {
  finding: FindingView;
  names: Map<string, string>;
  onSlot: (slots: string[]) => void;
}

/** One finding, and the ways to the positions that it is about. */
function Finding({ finding, names, onSlot }: FindingProps) {
  const { rule, severity, source } = finding;
  const places = hasPlaces(finding) ? finding.slots : [];
  return (
    <li>
      <Verdict word={finding.verdict} />
      <p>
        {finding.sentence}
        <span class="small source">
          {' '}{t.rule} {rule}, {severity}. {source && `${t.source}: ${source}.`}
        </span>
        <span class="ways">
          {places.filter((slot) => names.has(slot)).map((slot) => (
            <button key={slot} type="button" class="plain" onClick={() => onSlot([slot])}>
              {names.get(slot)}
            </button>
          ))}
        </span>
      </p>
    </li>
  );
}

const kNamedMost = 6;

function Missing({ names }: { names: string[] }) {
  if (names.length === 0) return null;
  const rest = names.length - kNamedMost;
  return (
    <p class="missing">
      <Mark shape="gap" tone="care" />{' '}
      {rest > 1 ? t.missingMany(names.slice(0, kNamedMost), rest) : t.missing(names)}
    </p>
  );
}

interface FindingsProps {
  spec: SpecView;
  onSlot: (slots: string[]) => void;
}

/** The verdict on the whole, then everything that is not a plain fit, worst first. */
export const Findings = memo(({ spec, onSlot }: FindingsProps) => {
  const names = new Map(spec.slots.map(({ slot, name }) => [slot, name]));
  return (
    <section class="findings" aria-labelledby="what-to-know" aria-live="polite">
      <h2 id="what-to-know"><Verdict word={spec.verdict} /></h2>
      {spec.findings.length === 0 && spec.missing.length === 0 && <p>{t.allFits}</p>}
      <Missing names={spec.missing} />
      <ul>
        {spec.findings.map((finding) => (
          <Finding key={finding.rule + finding.sentence} finding={finding} names={names}
            onSlot={onSlot} />
        ))}
      </ul>
      <p class="small">
        {t.checked(spec.rules_checked, spec.rules_not_known, spec.rules_do_not_apply)}
        {spec.masses_not_known > 0 && ` ${t.massesNotKnown(spec.masses_not_known)}`}
      </p>
    </section>
  );
});

export const Numbers = memo(({ numbers }: { numbers: NumberView[] }) => {
  return (
    <section class="numbers" aria-labelledby="the-numbers">
      <h2 id="the-numbers">{t.numbers}</h2>
      {numbers.length === 0 && <p class="quiet">{t.numbersNone}</p>}
      <dl>
        {numbers.map((number) => (
          <div key={number.name}>
            <dt>{number.name}</dt>
            <dd>
              <Told how={number.how}>
                {number.value}{number.us && <span class="us"> · {number.us}</span>}
              </Told>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
});
