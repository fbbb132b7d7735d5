import { useEffect, useId, useState } from 'preact/hooks';
import { ask, type ImproveProgress, type ProposalView, Refusal } from '../ask/ask';
import { onSearch } from '../ask/events';
import { Refused } from '../marks/waiting';
import { planWords } from '../words/plan';

const t = planWords.improve;
const kSeconds = [10, 30, 60, 300];

interface ImproveProps {
  proposal: ProposalView;
  onBetter: (proposal: ProposalView) => void;
}

/** Searches on for a better plan while a person looks at this one; the best so far is never lost. */
export function PlanImprove({ proposal, onBetter }: ImproveProps) {
  const id = useId();
  const [seconds, setSeconds] = useState(30);
  const [progress, setProgress] = useState<ImproveProgress | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);

  const told = async (question: Promise<ProposalView>) => {
    setRefusal(undefined);
    try {
      onBetter(await question);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    }
  };
  useEffect(() => onSearch((now) => {
    if (now.proposal !== proposal.id) return;
    setProgress(now);
    if (now.over) void told(ask.proposal(proposal.id));
  }), [proposal.id]);

  const runs = proposal.improving && !progress?.over;
  const start = () => {
    setProgress(undefined);
    void told(ask.improveProposal(proposal.id, seconds));
  };
  return (
    <details class="improve" open={runs || progress !== undefined}>
      <summary id={id}>{t.title}</summary>
      {runs ? (
        <p class="deeds">
          <progress aria-labelledby={id} value={progress?.seconds ?? 0} max={progress?.of_seconds ?? seconds} />
          <span class="num">{t.runs(progress?.seconds ?? 0, progress?.of_seconds ?? seconds)}</span>
          <button type="button" class="plain" onClick={() => void told(ask.stopProposal(proposal.id))}>{t.stop}</button>
        </p>
      ) : (
        <p class="deeds">
          <label>{t.start}{' '}
            <select value={seconds} onChange={(event) => setSeconds(Number(event.currentTarget.value))}>
              {kSeconds.map((n) => <option key={n} value={n}>{t.seconds(n)}</option>)}
            </select>
          </label>
          <button type="button" class="plain" onClick={start}>{t.go}</button>
        </p>
      )}
      {progress && <p role="status">{t.best(progress.cost, progress.first_cost)}</p>}
      {refusal && <Refused refusal={refusal} />}
    </details>
  );
}
