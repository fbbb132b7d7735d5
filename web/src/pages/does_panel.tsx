import { ask, type Doing, type FilledAid, type OrderView } from '../ask/ask';
import { concernsOrder, useAnswer, useFreshFor } from '../ask/use_answer';
import { BandDrawing } from '../drawing/band';
import { memo } from '../frame/memo';
import { orderAidPath } from '../frame/route';
import { useSeen } from '../frame/use_seen';
import { Mark } from '../marks/mark';
import { Body, Refused, Waiting } from '../marks/waiting';
import { does as t } from '../words/does';

/** While parts are chosen in quick succession nothing is reckoned anew. */
const kCalm = 500;  // milliseconds
const kHome = 'home-again';

const Missing = ({ questions }: { questions: string[] }) => (
  <>
    {questions.map((question) => (
      <p key={question} class="to-know"><Mark shape="gap" tone="care" /> {question}</p>
    ))}
  </>
);

function OneDoing({ order, doing }: { order: string; doing: Doing }) {
  return (
    <div>
      <dt>
        <a href={orderAidPath(doing.aid, order, doing.end)}>{doing.name}</a>
        {doing.note && <span class="small">{doing.note}</span>}
      </dt>
      <dd>
        {doing.value ? <><b>{doing.value}</b>{doing.us && <span class="us">{doing.us}</span>}</> : t.notKnown}
      </dd>
    </div>
  );
}

/** Presets that an answer rests on. */
function Grounds({ presets }: { presets: string[] }) {
  if (presets.length === 0) return null;
  return (
    <details class="grounds">
      <summary>{t.grounds}</summary>
      <p class="small">{t.groundsLead}</p>
      <ul>{presets.map((preset) => <li key={preset}>{preset}</li>)}</ul>
    </details>
  );
}

/** Figures of one aid rest on the same presets; they are said once. */
const groundsOf = (doings: Doing[]) => {
  const byAid = new Map(doings.filter((doing) => doing.value && doing.presets.length > 0)
    .map((doing) => [doing.aid, doing]));
  return [...byAid.values()];
};

const Doings = memo(({ order, doings }: { order: string; doings: Doing[] }) => {
  const grounds = groundsOf(doings);
  const open = [...new Set(doings.flatMap((doing) => doing.questions))];
  return (
    <>
      <dl class="doings">
        {doings.map((doing) => <OneDoing key={doing.name} order={order} doing={doing} />)}
      </dl>
      {open.length > 0 && <h3>{t.toKnow}</h3>}
      <Missing questions={open} />
      <Grounds presets={grounds.map((doing) => `${doing.name}: ${doing.presets.join('; ')}`)} />
    </>
  );
});

const HomeSays = memo(({ order, filled }: { order: string; filled: FilledAid }) => {
  const { reckoned, refusal } = filled;
  const link = <p><a href={orderAidPath(kHome, order)}>{t.homeAll}</a></p>;
  if (!reckoned || filled.open.length > 0) {
    const open = filled.open.length > 0 ? filled.open : refusal ? [refusal.sentence] : [];
    return <><p class="quiet">{t.notKnown}</p><Missing questions={open} />{link}</>;
  }
  const [odds, ...others] = reckoned.rows;
  return (
    <>
      {odds && <p class="home-odds"><b>{odds.value}</b> {t.homeOdds}</p>}
      {reckoned.bands.map((band) => <BandDrawing key={band.title} band={band} />)}
      <dl class="doings">
        {others.map((row) => (
          <div key={row.name}>
            <dt>{row.name}{row.note && <span class="small">{row.note}</span>}</dt>
            <dd><b>{row.value}</b>{row.us && <span class="us">{row.us}</span>}</dd>
          </div>
        ))}
      </dl>
      {link}
      <Grounds presets={filled.fields.filter((field) => field.from === 'preset' && field.value)
        .map((field) => `${field.label}: ${field.value}`)} />
    </>
  );
});

/** Half a second of work: asked for when a person comes to look at it. */
function Home({ view }: { view: OrderView }) {
  const { id } = view.line;
  const { ref, seen } = useSeen<HTMLDivElement>();
  const answered = useAnswer<FilledAid | undefined>(
    `home ${id} ${seen}`, async () => (seen ? ask.orderAid(id, kHome, {}) : undefined), concernsOrder(id), kCalm,
  );
  useFreshFor(view.revision, answered.again);
  const { value, refusal } = answered;
  return (
    <div class={value || refusal ? 'home-again' : 'home-again awaited'} ref={ref}>
      <h3>{t.home}</h3>
      {refusal ? <Refused refusal={refusal} />
        : value ? <HomeSays order={id} filled={value} /> : seen && <Waiting words={t.homeWaits} />}
    </div>
  );
}

/** The same to be printed, without what is not known. */
export function DoesTable({ order }: { order: string }) {
  const { value } = useAnswer(`does ${order}`, () => ask.does(order), concernsOrder(order), kCalm);
  const known = value?.doings.filter((doing) => doing.value) ?? [];
  if (known.length === 0) return null;
  return (
    <>
      <h2>{t.title}</h2>
      <table>
        <tbody>
          {known.map((doing) => (
            <tr key={doing.name}>
              <th scope="row">{doing.name}</th>
              <td>{doing.value}{doing.us && <><br /><span class="us">{doing.us}</span></>}</td>
              <td class="small">{doing.note}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">{t.groundsPrinted} {groundsOf(known).map((doing) => `${doing.name}: ${doing.presets.join('; ')}`).join('. ')}.</p>
    </>
  );
}

/** What the chosen parts come to on the road. */
export function DoesPanel({ view }: { view: OrderView }) {
  const { id } = view.line;
  const answered = useAnswer(`does ${id}`, () => ask.does(id), concernsOrder(id), kCalm);
  useFreshFor(view.revision, answered.again);
  return (
    <section class="does" aria-labelledby="what-it-does">
      <h2 id="what-it-does">{t.title}</h2>
      <Body answered={answered}>
        {(value) => (
          <>
            {value.has_charge && <Home view={view} />}
            <Doings order={id} doings={value.doings} />
          </>
        )}
      </Body>
    </section>
  );
}
