import { useCallback, useEffect, useReducer, useRef, useState } from 'preact/hooks';
import { ask, type PlanView, type PlanWish, type ProposalView, Refusal } from '../ask/ask';
import { localOf } from '../drawing/plan_axis';
import type { Place } from '../drawing/plan_scene';
import { type Work, worksOf } from '../drawing/plan_work';
import { planWords as t } from '../words/plan';
import { type Answer, type Deed, kAtRest, type Move, moved, wantsAnswer } from './plan_move';

/** Over a place for so long, work in the hand asks what letting it down there would do. */
const kRest = 350;  // milliseconds

/** A proposal that no hand holds: planned anew, or with a pin let go. */
interface Open {
  title: string;
  proposal: ProposalView | undefined;  // undefined: asked for
  refusal: string;                     // why there is none, or why it was not agreed
  keeping: boolean;
}

const sentenceOf = (error: unknown): string => {
  if (!(error instanceof Refusal)) throw error;
  return error.view.sentence;
};

/** What is asked of a place is answered for that place, or refused with one sentence. */
async function answerFor(over: number, work: Work, place: Place): Promise<Answer> {
  try {
    const { order, operation } = work;
    const { person, stand } = place;
    const proposal = await ask.propose({ over, order, operation, person, stand, start: localOf(place.start) });
    return { lands: true, proposal };
  } catch (error) {
    return { lands: false, sentence: sentenceOf(error) };
  }
}

/** Asks when work rests over a place or is let down there; never twice at once for one place. */
function useAnswers(over: number, move: Move, dispatch: (deed: Deed) => void) {
  const asked = useRef('');
  useEffect(() => {
    if (move.at === 'rest') asked.current = '';
    if (move.at === 'rest' || !wantsAnswer(move)) return;
    const { work, place } = move;
    const question = `${over} ${work.key} ${JSON.stringify(place)}`;
    if (asked.current === question) return;
    const put = () => {
      asked.current = question;
      void answerFor(over, work, place).then((answer) => {
        if (asked.current === question) asked.current = '';
        dispatch({ do: 'answer', place, work: work.key, answer });
      });
    };
    if (move.at === 'down') return put();
    const timer = setTimeout(put, kRest);
    return () => clearTimeout(timer);
  }, [move, over]);
}

/** A proposal that nobody wants needs no room; when the server has forgotten it, all is well. */
const leave = (proposal: ProposalView | undefined) => {
  if (proposal) ask.leaveProposal(proposal.id).catch(sentenceOf);
};

export interface PlanDesk {
  move: Move;
  dispatch: (deed: Deed) => void;
  open: Open | undefined;
  proposal: ProposalView | undefined;  // what the wall may show instead of the plan
  said: string;                        // for who does not see the wall
  say: (words: string) => void;
  planAnew: () => void;
  letGo: (work: Work) => void;
  keep: () => void;
  putBack: () => void;
  better: (proposal: ProposalView) => void;
}

/** One thing at a time lies on the desk: a move by hand, or another proposal. */
export function usePlanDesk(plan: PlanView, onPlan: (plan: PlanView) => void): PlanDesk {
  const [move, dispatch] = useReducer(moved, kAtRest);
  const [open, setOpen] = useState<Open | undefined>(undefined);
  const [said, say] = useState('');
  const wanted = useRef(0);
  useAnswers(plan.number, move, dispatch);
  const ofMove = move.at === 'down' && move.answer?.lands ? move.answer.proposal : undefined;
  const proposal = ofMove ?? open?.proposal;

  const put = useCallback((deed: Deed) => {
    if (deed.do !== 'pick up' && deed.do !== 'put straight down') return dispatch(deed);
    wanted.current += 1;
    setOpen(undefined);
    // Taken from the wall as proposed, it is moved from where it is agreed.
    const work = worksOf(plan).find((one) => one.key === deed.work.key) ?? deed.work;
    dispatch({ ...deed, work });
  }, [plan]);

  const askFor = async (title: string, question: PlanWish) => {
    const number = ++wanted.current;
    dispatch({ do: 'put back' });
    setOpen({ title, proposal: undefined, refusal: '', keeping: false });
    const closed = { title, refusal: '', keeping: false };
    try {
      const answer = await ask.propose(question);
      if (number === wanted.current) setOpen({ ...closed, proposal: answer });
    } catch (error) {
      const refusal = sentenceOf(error);
      if (number === wanted.current) setOpen({ ...closed, proposal: undefined, refusal });
    }
  };

  const keep = async () => {
    if (!proposal) return;
    dispatch({ do: 'keep' });
    setOpen((now) => now && { ...now, keeping: true });
    try {
      onPlan(await ask.agreeProposal(proposal.id));
      say(move.at === 'down' ? t.move.kept(t.workShort(move.work.order, move.work.operation)) : t.proposal.agreed);
      dispatch({ do: 'kept' });
      setOpen(undefined);
    } catch (error) {
      const sentence = sentenceOf(error);
      dispatch({ do: 'not kept', sentence });
      setOpen((now) => now && { ...now, keeping: false, refusal: sentence });
    }
  };

  return {
    move, dispatch: put, open, proposal, said, say, keep: () => void keep(),
    planAnew: () => void askFor(plan.number > 0 ? t.proposal.anew : t.proposal.first, { over: plan.number }),
    letGo: (work) => void askFor(t.proposal.letGo(t.workShort(work.order, work.operation)),
      { over: plan.number, order: work.order, operation: work.operation, unpin: true }),
    putBack: () => {
      wanted.current += 1;
      leave(proposal);
      dispatch({ do: 'put back' });
      setOpen(undefined);
    },
    better: (next) => {
      if (ofMove && move.at === 'down') {
        dispatch({ do: 'answer', place: move.place, work: move.work.key, answer: { lands: true, proposal: next } });
      } else {
        setOpen((now) => now && { ...now, proposal: next });
      }
    },
  };
}
