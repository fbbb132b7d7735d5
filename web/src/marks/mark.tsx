import type { JSX } from 'preact';
import { say } from '../words/say';
import { outcomeMark, type Shape, standingMark, stateMark, statusMark, type Tone, verdictMark, workMark } from './shape_of';

/** All marks are drawn in a field of 16 by 16 with a pen of 1.8. */
const kShapes: Record<Shape, JSX.Element | null> = {
  'disc': <circle cx="8" cy="8" r="5" class="full" />,
  'ring': <circle cx="8" cy="8" r="5" />,
  'disc and arm': <><circle cx="6" cy="8" r="4" class="full" /><path d="M10 8h5M13 5v6" /></>,
  'triangle': <path d="M8 2.5 14 13H2Z M8 6.5v3" />,
  'gap': <><path d="M5.2 4.2A5 5 0 0 1 13 8M3 8a5 5 0 0 0 7.8 3.8" /><circle cx="8" cy="8" r="1" class="full" /></>,
  'struck square': <><path d="M3 3h10v10H3Z" class="full" /><path d="M1.5 14.5l13-13" class="strike" /></>,
  'dashes': <circle cx="8" cy="8" r="5" stroke-dasharray="2.4 2.8" />,
  'quarter': <><circle cx="8" cy="8" r="5.5" /><path d="M8 8V2.5A5.5 5.5 0 0 1 13.5 8Z" class="full" /></>,
  'half': <><circle cx="8" cy="8" r="5.5" /><path d="M8 2.5a5.5 5.5 0 0 1 0 11Z" class="full" /></>,
  'three quarters': <><circle cx="8" cy="8" r="5.5" /><path d="M8 8V2.5A5.5 5.5 0 1 1 2.5 8Z" class="full" /></>,
  'eye': <><circle cx="8" cy="8" r="5.5" /><circle cx="8" cy="8" r="2.2" class="full" /></>,
  'flag': <path d="M4 14.5V2l9 3.5L4 9" class="full" />,
  'arrow': <path d="M1.5 8h12M9 3.5 13.5 8 9 12.5" />,
  'tick': <path d="M2.5 8.5 6.5 12.5 13.5 3.5" />,
  'bar': <path d="M3 8h10" />,
  'cross': <path d="M3.5 3.5l9 9M12.5 3.5l-9 9" />,
  'lozenge': <path d="M8 2l6 6-6 6-6-6Z" class="full" />,
  'nothing': null,
};

export function Mark({ shape, tone }: { shape: Shape; tone: Tone }) {
  return (
    <svg class={`mark ${tone}`} viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
      {kShapes[shape]}
    </svg>
  );
}

type Marked = (word: string) => { shape: Shape; tone: Tone };

function wordWith(marked: Marked) {
  return function MarkedWord({ word, children }: { word: string; children?: preact.ComponentChildren }) {
    const { shape, tone } = marked(word);
    return <span class={`marked ${tone}`}><Mark shape={shape} tone={tone} /><span class="word">{children ?? word}</span></span>;
  };
}

const VerdictWord = wordWith(verdictMark);

/** An order without any part has no verdict; that is said too. */
export const Verdict = ({ word }: { word: string }) => (
  <VerdictWord word={word}>{word || say.order.nothingChosen}</VerdictWord>
);
export const Status = wordWith(statusMark);
export const State = wordWith(stateMark);
export const Standing = wordWith(standingMark);
export const Work = wordWith(workMark);
export const Outcome = wordWith(outcomeMark);
