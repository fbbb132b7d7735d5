import type { ProposalView } from '../ask/ask';
import { type Place, placeOf, samePlace } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';

export type Hand = 'pointer' | 'keys' | 'form';

/** What the server said of a place. Nothing of it is kept until a person says so. */
export type Answer =
  | { lands: true; proposal: ProposalView }
  | { lands: false; sentence: string };

/**
 * A move by hand, from picking up to keeping or putting back.
 * `held`: in the hand, over a place; `down`: let down there. An answer is always that of the place
 * it is shown with: whoever moves on is without one until the server has spoken again.
 */
export type Move =
  | { at: 'rest' }
  | { at: 'held'; work: Work; hand: Hand; place: Place; answer: Answer | undefined }
  | { at: 'down'; work: Work; hand: Hand; place: Place; answer: Answer | undefined; keeping: boolean };

export type Deed =
  | { do: 'pick up'; work: Work; hand: Hand }
  | { do: 'hold over'; place: Place }
  | { do: 'let down' }
  | { do: 'put straight down'; work: Work; place: Place }  // with a form: picked up and down in one
  | { do: 'answer'; place: Place; work: string; answer: Answer }
  | { do: 'keep' }
  | { do: 'kept' }
  | { do: 'not kept'; sentence: string }
  | { do: 'put back' };

export const kAtRest: Move = { at: 'rest' };

/** What does not move is looked at, not picked up. */
export const mayMove = (work: Work) => !work.frozen;

function letDown(move: Move): Move {
  if (move.at !== 'held') return move;
  // Let down where it was taken from, a hand or a key has changed its mind.
  if (samePlace(move.place, placeOf(move.work))) return kAtRest;
  const { work, hand, place, answer } = move;
  return { at: 'down', work, hand, place, answer, keeping: false };
}

function answered(move: Move, place: Place, work: string, answer: Answer): Move {
  if (move.at === 'rest' || move.work.key !== work || !samePlace(move.place, place)) return move;
  return { ...move, answer };
}

/** Pure: the same move and deed, the same next move. A deed that does not apply changes nothing. */
export function moved(move: Move, deed: Deed): Move {
  switch (deed.do) {
    case 'pick up': {
      if (!mayMove(deed.work) || (move.at === 'down' && move.keeping)) return move;
      return { at: 'held', work: deed.work, hand: deed.hand, place: placeOf(deed.work), answer: undefined };
    }
    case 'hold over':
      if (move.at !== 'held' || samePlace(move.place, deed.place)) return move;
      return { ...move, place: deed.place, answer: undefined };
    case 'let down': return letDown(move);
    case 'put straight down':
      if (!mayMove(deed.work) || (move.at === 'down' && move.keeping)) return move;
      return { at: 'down', work: deed.work, hand: 'form', place: deed.place, answer: undefined, keeping: false };
    case 'answer': return answered(move, deed.place, deed.work, deed.answer);
    case 'keep': return move.at === 'down' && move.answer?.lands ? { ...move, keeping: true } : move;
    case 'kept': return move.at === 'down' && move.keeping ? kAtRest : move;
    case 'not kept':
      return move.at === 'down' ? { ...move, keeping: false, answer: { lands: false, sentence: deed.sentence } } : move;
    case 'put back': return move.at === 'down' && move.keeping ? move : kAtRest;
  }
}

/** Whether the server has still to be asked about where the work is. */
export const wantsAnswer = (move: Move) =>
  move.at !== 'rest' && move.answer === undefined && !(move.at === 'held' && samePlace(move.place, placeOf(move.work)));
