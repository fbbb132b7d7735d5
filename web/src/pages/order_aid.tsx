import { useState } from 'preact/hooks';
import { type Aid, type AidInput, ask, type FilledAid, type FilledField } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { useOrderAid } from '../ask/use_order_aid';
import { fileFieldOf, type Typed, useReckoned } from '../ask/use_reckoned';
import { aidPath, orderAidPath, orderPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark } from '../marks/mark';
import { Body, Refused, Waiting } from '../marks/waiting';
import { does as t } from '../words/does';
import { say } from '../words/say';
import { AidField, Figures } from './aids';
import { ChoiceField } from './field';
import { GivenFile } from './given_file';

/** Beside a field: from which part it comes, or that it says nothing of this bike. */
function Origin({ field, onOrder }: { field: FilledField; onOrder: () => void }) {
  const { from, origin, question, value } = field;
  return (
    <div class={`field-origin ${from}`}>
      {from === 'known' && <p>{origin}</p>}
      {from === 'preset' && !question && value && <p>{t.preset}</p>}
      {from === 'typed' && (
        <p>
          {origin ? t.typedOver(origin) : t.typed}{' '}
          <button type="button" class="plain" onClick={onOrder}>{t.asOrder}</button>
        </p>
      )}
      {question && (
        <p class="care">
          <Mark shape="gap" tone="care" /> {t.open(question)} {from === 'preset' && t.preset}
        </p>
      )}
    </div>
  );
}

interface FieldsProps {
  aid: Aid;
  filled: FilledAid;
  typed: Typed;
  onTyped: (typed: Typed) => void;
  onFile: (file: File | undefined) => void;
}

function Fields({ aid, filled, typed, onTyped, onFile }: FieldsProps) {
  const complaintAt = (input: AidInput) =>
    filled.refusal?.field === input.key ? filled.refusal.sentence : undefined;
  return (
    <form class="aid-fields of-order" onSubmit={(event) => event.preventDefault()} noValidate>
      {aid.inputs.map((input) => {
        const field = filled.fields.find((one) => one.key === input.key);
        if (!field) return null;
        const asOrder = () => {
          const { [input.key]: _, ...others } = typed;
          onTyped(others);
        };
        return (
          <div key={input.key} class="field-of-order">
            {input.kind === 'file'
              ? (
                <GivenFile input={input} label={field.from === 'known' ? `${input.label}: ${field.value}` : input.label}
                  hint={field.from === 'known' ? t.anotherFile : input.help} onFile={onFile}
                  complaint={complaintAt(input)} />
              ) : (
                <AidField input={input} value={typed[input.key] ?? field.value}
                  complaint={complaintAt(input)}
                  onValue={(value) => onTyped({ ...typed, [input.key]: value })} />
              )}
            <Origin field={field} onOrder={asOrder} />
          </div>
        );
      })}
      {Object.keys(typed).length > 0 && (
        <button type="button" class="plain" onClick={() => onTyped({})}>{t.asOrderAll}</button>
      )}
    </form>
  );
}

/** More ends than these are chosen from a list. */
const kMostLinks = 3;

function Ends({ order, filled, id }: { order: string; filled: FilledAid; id: string }) {
  if (filled.ends.length === 0) return null;
  if (filled.ends.length > kMostLinks) {
    return (
      <div class="many-ends">
        <ChoiceField label={t.joint} value={filled.end} onValue={(end) => go(orderAidPath(id, order, end))}
          options={[['', t.chooseJoint], ...filled.ends.map((end): [string, string] => [end, end])]} />
      </div>
    );
  }
  const now = filled.end || filled.ends[0];
  return (
    <p class="ends" role="group" aria-label={t.ends}>
      {filled.ends.map((end) => (
        <a key={end} href={orderAidPath(id, order, end)} aria-current={end === now ? 'true' : undefined}>
          {t.end(end)}
        </a>
      ))}
    </p>
  );
}

/** Every value as it stands in the fields, for a file that is chosen here. */
function allOf(filled: FilledAid, aid: Aid, typed: Typed): Typed {
  const file = fileFieldOf(aid)?.key;
  const fields = filled.fields.filter((field) => field.key !== file);
  return { ...Object.fromEntries(fields.map((field) => [field.key, field.value])), ...typed };
}

/** The answer with a file of the mechanic's instead of the order's. */
function WithFile({ aid, fields, file }: { aid: Aid; fields: Typed; file: File }) {
  const { reckoned, refusal } = useReckoned(aid, fields, file);
  return refusal ? <Refused refusal={refusal} /> : reckoned ? <Figures reckoned={reckoned} /> : <Waiting />;
}

function OneOrderAid({ aid, order, end }: { aid: Aid; order: string; end: string }) {
  const [typed, setTyped] = useState<Typed>({});
  const [file, setFile] = useState<File>();
  const { filled, refusal } = useOrderAid({ order, aid: aid.id, end }, typed);
  if (!filled) return refusal ? <Refused refusal={refusal} /> : <Waiting />;
  const refused = filled.refusal;
  const here = filled.fields.length > 0;
  return (
    <>
      <Ends order={order} filled={filled} id={aid.id} />
      <p class="lead">{aid.lead}</p>
      {aid.caution && <p class="care aid-caution"><Mark shape="half" tone="care" /> {aid.caution}</p>}
      {refusal && <Refused refusal={refusal} />}
      <div class={here ? 'aid' : undefined}>
        {here && <Fields aid={aid} filled={filled} typed={typed} onTyped={setTyped} onFile={setFile} />}
        <section class="aid-answer" aria-live="polite" aria-label={say.aids.answer}>
          {!refused && !file && filled.open.length > 0 && (
            <p class="care aid-caution"><Mark shape="gap" tone="care" /> {t.withPresets(filled.open.length)}</p>
          )}
          {file ? <WithFile aid={aid} fields={allOf(filled, aid, typed)} file={file} />
            : refused ? <p class="measure"><Mark shape="gap" tone="care" /> {refused.sentence}</p>
              : filled.reckoned && <Figures reckoned={filled.reckoned} />}
          <p class="small aid-method">{aid.method} {say.aids.source(aid.source)}</p>
        </section>
      </div>
    </>
  );
}

export function OrderAidPage({ id, order, end }: { id: string; order: string; end: string }) {
  const answered = useAnswer('aids', ask.aids, () => false);
  const aid = answered.value?.find((one) => one.id === id);
  return (
    <div class="page">
      <div class="title-line">
        <h1>{aid?.title ?? say.aids.title}</h1>
        <a href="/bench/aids">{say.aids.title}</a>
      </div>
      <p class="of-what">
        <span>{t.forOrder} <a href={orderPath(order)}>{order}</a></span>
        <a href={aidPath(id)}>{t.noOrder}</a>
      </p>
      <Body answered={answered}>
        {() => aid ? <OneOrderAid aid={aid} order={order} end={end} /> : <p class="lead">{say.aids.none(id)}</p>}
      </Body>
    </div>
  );
}
