/** Which mark stands for a word. The word is always written beside it; the shape only helps. */
export type Shape =
  | 'disc' | 'ring' | 'disc and arm' | 'triangle' | 'gap' | 'struck square'  // what fits
  | 'dashes' | 'quarter' | 'half' | 'three quarters' | 'eye' | 'flag' | 'arrow' | 'tick' | 'bar' | 'cross'
  | 'lozenge' | 'nothing';

/** Ink for most things, ochre for care, vermilion for a stop: always after word and shape. */
export type Tone = 'ink' | 'quiet' | 'care' | 'stop' | 'touch';

interface Mark {
  shape: Shape;
  tone: Tone;
}

const kVerdicts: Record<string, Mark> = {
  '': { shape: 'dashes', tone: 'quiet' },
  'fits': { shape: 'disc', tone: 'ink' },
  'fits with': { shape: 'disc and arm', tone: 'ink' },
  'fits with care': { shape: 'triangle', tone: 'care' },
  'not known': { shape: 'gap', tone: 'care' },
  'does not fit': { shape: 'struck square', tone: 'stop' },
};

const kStatuses: Record<string, Mark> = {
  'open': { shape: 'ring', tone: 'ink' },
  'open with adapter': { shape: 'disc and arm', tone: 'ink' },
  'open with care': { shape: 'triangle', tone: 'care' },
  'not known': { shape: 'gap', tone: 'care' },
  'closed': { shape: 'struck square', tone: 'stop' },
  'not proven': { shape: 'dashes', tone: 'quiet' },
};

const kStates: Record<string, Mark> = {
  'enquiry': { shape: 'dashes', tone: 'quiet' },
  'draft': { shape: 'dashes', tone: 'quiet' },
  'offer': { shape: 'ring', tone: 'ink' },
  'agreed': { shape: 'ring', tone: 'ink' },
  'gathering': { shape: 'quarter', tone: 'ink' },
  'at maker': { shape: 'quarter', tone: 'ink' },
  'under way': { shape: 'arrow', tone: 'ink' },
  'kitted': { shape: 'half', tone: 'ink' },
  'arrived': { shape: 'half', tone: 'ink' },
  'building': { shape: 'three quarters', tone: 'ink' },
  'finishing': { shape: 'three quarters', tone: 'ink' },
  'checking': { shape: 'eye', tone: 'ink' },
  'ready': { shape: 'flag', tone: 'ink' },
  'boxed': { shape: 'lozenge', tone: 'ink' },
  'on the road': { shape: 'arrow', tone: 'ink' },
  'delivered': { shape: 'tick', tone: 'ink' },
  'handed over': { shape: 'tick', tone: 'ink' },
  'in care': { shape: 'disc', tone: 'quiet' },
  'closed': { shape: 'bar', tone: 'quiet' },
  'cancelled': { shape: 'cross', tone: 'quiet' },
};

const kStandings: Record<string, Mark> = {
  'known': { shape: 'disc', tone: 'ink' },
  'measured': { shape: 'lozenge', tone: 'ink' },
  'not known': { shape: 'gap', tone: 'care' },
};

/** What would happen to a row of a supplier's list. */
const kFates: Record<string, Mark> = {
  'new': { shape: 'flag', tone: 'ink' },
  'changed': { shape: 'lozenge', tone: 'ink' },
  'same': { shape: 'bar', tone: 'quiet' },
  'refused': { shape: 'struck square', tone: 'stop' },
  'against': { shape: 'triangle', tone: 'care' },
};

/** How far an operation at the stand is. */
const kWork: Record<string, Mark> = {
  'not yet': { shape: 'dashes', tone: 'quiet' },
  'open': { shape: 'ring', tone: 'ink' },
  'running': { shape: 'three quarters', tone: 'ink' },
  'paused': { shape: 'half', tone: 'ink' },
  'done': { shape: 'tick', tone: 'ink' },
  'redo': { shape: 'triangle', tone: 'care' },
};

/** How a reading or a line of a list came out; an empty word is one that is open. */
const kOutcomes: Record<string, Mark> = {
  '': { shape: 'ring', tone: 'quiet' },
  'pass': { shape: 'tick', tone: 'ink' },
  'fix': { shape: 'triangle', tone: 'care' },
  'stop': { shape: 'struck square', tone: 'stop' },
};

const kNone: Mark = { shape: 'nothing', tone: 'ink' };
const from = (table: Record<string, Mark>) => (word: string) => table[word.toLowerCase()] ?? kNone;

export const verdictMark = from(kVerdicts);
export const statusMark = from(kStatuses);
export const stateMark = from(kStates);
export const fateMark = from(kFates);
export const standingMark = from(kStandings);
export const workMark = from(kWork);
export const outcomeMark = from(kOutcomes);
