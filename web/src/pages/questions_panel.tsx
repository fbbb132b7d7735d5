import { useState } from 'preact/hooks';
import { ask, type OrderView, type QuestionView, Refusal } from '../ask/ask';
import { Verdict } from '../marks/mark';
import { Refused } from '../marks/waiting';
import { dayInWords } from '../words/day';
import { say } from '../words/say';

const t = say.questions;

type Said = 'yes' | 'no' | 'not yet';

interface AnsweringProps {
  question: QuestionView;
  onSay: (question: string, answer: Said, note: string) => Promise<boolean>;
  busy: boolean;
}

/** The note, and the three things that can be said. */
function Answering({ question, onSay, busy }: AnsweringProps) {
  const [note, setNote] = useState(question.answer === 'not yet' ? question.note : '');
  const words: [Said, string][] = [['yes', t.yes], ['no', t.no], ['not yet', t.notYet]];
  return (
    <div class="answering">
      <label>
        <span class="unseen">{t.noteOn(question.id)}</span>
        <input type="text" value={note} placeholder={t.note} maxLength={500} autocomplete="off"
          onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <div role="group" aria-label={t.answerTo(question.id)}>
        {words.map(([word, shown]) => (
          <button key={word} type="button" class="say" disabled={busy} onClick={() => { void onSay(question.id, word, note.trim()); }}>
            {shown}
          </button>
        ))}
      </div>
    </div>
  );
}

const whoAnswers = (question: QuestionView) =>
  (question.people.length ? `${question.owner} (${say.joined(question.people)})` : question.owner);

function Small({ question }: { question: QuestionView }) {
  return (
    <span class="small source">
      {t.forWhom(whoAnswers(question))} {t.rule} {question.id}, {question.severity}. {say.order.source}: {question.source}.
    </span>
  );
}

function Told({ question }: { question: QuestionView }) {
  if (!question.answer) return null;
  const when = question.day ? dayInWords(question.day) : '';
  return <p class="said"><b>{question.answer}</b>, {question.who}, {when}{question.note && `: ${question.note}`}</p>;
}

function Open(props: AnsweringProps) {
  const { question } = props;
  return (
    <li>
      <p class="asked">{question.sentence} <Small question={question} /></p>
      {question.before && <p class="quiet">{question.before}</p>}
      <Told question={question} />
      <Answering {...props} />
    </li>
  );
}

function Answered(props: AnsweringProps) {
  const { question, onSay } = props;
  const [again, setAgain] = useState(false);
  const say_ = async (id: string, answer: Said, note: string) => {
    const done = await onSay(id, answer, note);
    if (done) setAgain(false);
    return done;
  };
  return (
    <li>
      <Verdict word={question.verdict} />
      <div>
        <p>{question.sentence} <Small question={question} /></p>
        <Told question={question} />
        {again ? <Answering {...props} onSay={say_} />
          : <button type="button" class="plain" onClick={() => setAgain(true)}>{t.again}<span class="unseen"> {question.id}</span></button>}
      </div>
    </li>
  );
}

interface PanelProps {
  view: OrderView;
  put: (view: OrderView) => void;
  again: () => void;
}

/** What only a person can decide about this bike: what is open with its answer beside it, then the rest. */
export function QuestionsPanel({ view, put, again }: PanelProps) {
  const [busy, setBusy] = useState('');
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  if (view.questions.length === 0) return null;
  const open = view.questions.filter((question) => question.open);
  const answered = view.questions.filter((question) => !question.open);
  const onSay = async (question: string, answer: Said, note: string) => {
    setBusy(question);
    setRefusal(undefined);
    try {
      put(await ask.answerQuestion(view.line.id, question, { answer, note, revision: view.revision }));
      return true;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
      if (error.view.code === 'conflict') again();
      return false;
    } finally {
      setBusy('');
    }
  };
  const props = (question: QuestionView) => ({ question, onSay, busy: busy !== '' });
  return (
    <section class="questions" aria-labelledby="the-questions">
      <h2 id="the-questions">{t.title}</h2>
      <p class="small" role="status">{t.count(open.length, answered.length)}</p>
      {refusal && <Refused refusal={refusal} />}
      {open.length > 0 && <ol class="to-answer">{open.map((question) => <Open key={question.id} {...props(question)} />)}</ol>}
      {answered.length > 0 && (
        <details class="answered" open={open.length === 0 && answered.length < 4}>
          <summary>{t.answered} <span class="num">{answered.length}</span></summary>
          <ul>{answered.map((question) => <Answered key={question.id} {...props(question)} />)}</ul>
        </details>
      )}
    </section>
  );
}
