import { inHundred, plain } from './amount';
import { count, listed } from './count';
import { clockOf, dayInWords, dayShort, momentInWords, weekdayShort } from './day';

/** Words of the wall plan. */
const dayOr = (day: string | null) => (day ? dayInWords(day) : 'a day beyond the plan');
const standWords = (area: string, stand: number) => (stand > 0 ? `${area}, stand ${stand}` : area);

export const planWords = {
  title: 'Plan', wall: 'Wall plan', list: 'By day',
  none: 'Nobody has anything to do: no agreed order has work left.',
  show: 'What is shown', people: 'People', lanes: 'Lanes', stands: 'Stands',
  zoom: 'How much at once', day: 'Day', week: 'Week', all: 'All',
  goTo: 'Go to', bike: 'Follow a bike', noBike: 'none', print: 'Print',
  arrivals: 'Arrivals', promises: 'Promises', late: 'late', frozen: 'frozen', off: 'off',
  pinned: 'pinned', confirmed: 'confirmed', notConfirmed: 'not confirmed', now: 'now',
  with: (names: string[]) => `with ${listed(names)}`, lends: (work: string) => `lends a hand: ${work}`,
  lendsTo: (name: string) => `lends a hand to ${name}`,
  more: (n: number) => `and ${n} more`,
  label: (who: string) => `Work of ${who}`, severalStands: 'changes stands',
  stand: standWords,
  stretch: (from: string, to: string) => (from.slice(0, 10) === to.slice(0, 10)
    ? `${momentInWords(from)} to ${clockOf(to)}` : `${momentInWords(from)} to ${momentInWords(to)}`),
  shortMoment: (moment: string) => `${weekdayShort(moment)} ${dayShort(moment)} ${clockOf(moment)}`,

  key: {
    title: 'How to read it', frozen: 'frozen: starts too soon to move', late: 'its promise breaks',
    pinned: 'pinned: put there by hand', lends: 'lends a hand there', cannot: 'cannot stay as agreed', waits: 'goes on untouched: glue, charge',
    shut: 'not at work', arrival: 'arrives, confirmed', arrivalOpen: 'expected, not confirmed', promise: 'promised day',
    folded: 'Nights and closed days are folded away.',
  },

  slip: {
    title: 'The work chosen',
    hint: 'Choose a piece of work to see it, move it or pin it. Drag it, or use Enter and the arrow keys.',
    by: (who: string, where: string) => `${who}, ${where}`,
    waits: (moment: string) => `Then untouched until ${momentInWords(moment)}.`,
    frozen: (moment: string) => `It starts in the frozen part of the plan, until ${momentInWords(moment)}, and does not move.`,
    pinned: 'Pinned: put there by hand. The plan leaves it there.',
    together: (names: string[]) => `${listed(names)} ${names.length === 1 ? 'lends' : 'lend'} a hand from its start to its end.`,
    cannot: (why: string) => `It cannot stay as agreed: ${why}.`,
    late: (order: string) => `Order ${order} breaks its promise in this plan.`,
    open: 'Open the bike', move: 'Move', pin: 'Pin it here', letGo: 'Let it go', close: 'Close',
  },

  move: {
    title: (work: string) => `Move ${work}`,
    person: 'Person', stand: 'Stand', anyStand: 'any', day: 'Day', time: 'Time', clock: 'as in 13:30',
    see: 'See what it does', leave: 'Leave it', noTime: (value: string) => `“${value}” is no time of day; it would be as in 13:30.`,
    noDay: 'A day is missing.',
    held: (work: string, who: string, where: string, moment: string) => `${work}: ${who}, ${where}, ${momentInWords(moment)}.`,
    picked: (work: string) => `${work} is in the hand. Arrow keys move it in time and from lane to lane, with Shift by days; Enter puts it down, Escape puts it back.`,
    over: (who: string, where: string, moment: string) => `${who}, ${where}, ${momentInWords(moment)}.`,
    back: (work: string) => `${work} is back where it was.`,
    asking: 'Asking what that does …', lands: 'It lands.', no: 'It does not land.',
    keep: 'Keep it', keeping: 'Keeping it …', putBack: 'Put it back', elsewhere: 'Another place',
    kept: (work: string) => `${work} is kept there.`,
    frozen: (work: string) => `${work} is frozen and does not move.`,
  },

  proposal: {
    anew: 'A new plan', first: 'The first plan', letGo: (work: string) => `Let ${work} go`,
    ask: 'Make a proposal', asking: 'Planning anew …', askFirst: 'Agree a plan',
    agree: 'Agree to it', agreeing: 'Agreeing …', agreed: 'The plan is agreed.', leave: 'Leave it', asProposed: 'as proposed', asAgreed: 'as agreed', shows: 'The wall shows',
    reasons: 'Why', changes: (n: number) => (n === 0 ? 'Nothing else moves to another person or day' : count(n, 'change of person or day', 'changes of person or day')),
    sameDay: (n: number) => `${count(n, 'operation keeps', 'operations keep')} person and day, at another hour.`,
    atRisk: 'Promises that come at risk', noneAtRisk: 'No promise comes at risk.',
    wereAtRisk: (n: number) => count(n, 'promise stays at risk', 'promises stay at risk'), otherDays: (n: number) => count(n, 'other bike’s day changes', 'other bikes’ days change'),
    hands: (n: number) => `${count(n, 'operation has', 'operations have')} other people lending a hand`,
    lend: (now: string[], before: string[]) => `with ${listed(now)}${before.length > 0 ? ` instead of ${listed(before)}` : ''}`,
    was: 'not planned', nowhere: 'finds no room',
    at: (who: string, moment: string) => `${who}, ${weekdayShort(moment)} ${dayShort(moment)} ${clockOf(moment)}`,
    readyWas: (before: string | null, after: string | null) => (before === after ? `ready ${dayOr(after)}` : `ready ${dayOr(after)} instead of ${dayOr(before)}`),
    promisedDay: (day: string) => `promised ${dayInWords(day)}`,
    kept: (after: number, before: number | null) => (before === null || Math.round(before * 100) === Math.round(after * 100)
      ? `kept in ${inHundred(after)}` : `kept in ${inHundred(after)} instead of ${Math.round(before * 100)}`),
    heldBy: (what: string) => `held by ${what}`,
    work: 'Work', from: 'As agreed', to: 'Proposed', because: 'Because',
  },

  cost: {
    title: 'What it costs', sum: (before: number, after: number) => {
      const difference = after - before;
      if (Math.abs(difference) < 0.05) return 'The plan as a whole stays as good as it is.';
      return difference > 0 ? `The plan becomes worse by ${plain(difference, 1)}.` : `The plan becomes better by ${plain(-difference, 1)}.`;
    },
    what: 'Judged by', before: 'As agreed', after: 'Proposed', weight: 'Weight', cost: 'Cost', all: 'Together',
    days_late: 'days late, weighted', moved: 'operations moved', kit_days: 'days that complete kits wait',
    last_days: 'days until everything is ready', uneven_hours: 'hours unevenly shared',
  },

  improve: {
    title: 'Look for a better one', seconds: (n: number) => (n < 60 ? `${n} seconds` : count(n / 60, 'minute', 'minutes')),
    start: 'Search on for', go: 'Search on', stop: 'Stop and keep the best',
    runs: (seconds: number, of: number) => `${Math.floor(seconds)} of ${Math.round(of)} seconds`,
    best: (cost: number, first: number) => (first - cost < 0.05
      ? `Cost ${plain(cost, 1)}, nothing better yet.` : `Cost ${plain(cost, 1)}, better by ${plain(first - cost, 1)}.`),
  },

  weights: {
    title: 'What the plan is judged by',
    lead: 'A plan is better when it costs less; each weight says what one of these costs. Frozen are working days after today: what is planned in them does not move and has no price.',
    frozen_days: 'Working days frozen',
    day_late: 'A promise one day late', moved: 'An operation moved to another person or day',
    kit_day: 'A day that a complete kit waits', last_day: 'A day until everything is ready', uneven_hour: 'An hour unevenly shared',
    save: 'Save', saved: 'Saved. A plan agreed from now on is judged by it.', no: (value: string) => `“${value}” is no number.`,
  },

  absence: {
    title: 'Somebody is away', person: 'Person', from: 'From', to: 'To', save: 'Write it down', back: 'Is back: these days are off again',
    saved: (who: string) => `Written down for ${who}. The plan stays as agreed and says what is out of date.`,
  },

  calendars: {
    title: 'Everybody’s own calendar', file: 'Calendar of',
    lead: 'In a calendar program choose to subscribe to an address and paste this one; it then fetches the plan anew by itself. Opened as a file it is a copy of today.',
  },

  tables: {
    orders: 'Promises in this plan', order: 'Order', rider: 'Rider', promised: 'Promised', ready: 'Ready', boundBy: 'Held by',
    beyond: 'beyond this plan', noPromise: 'nothing promised',
  },

  byDay: {
    earlier: 'Day before', later: 'Day after', nobody: 'nothing planned', away: 'not at work',
    hours: (from: string, to: string) => `${clockOf(from)} to ${clockOf(to)}`,
    goesOn: 'goes on',
  },

  paper: (from: string, to: string) => `${dayInWords(from)} to ${dayInWords(to)}`,
  work: (order: string, rider: string, operation: string, name: string) => `${order} ${rider}: ${operation} ${name}`,
  workShort: (order: string, operation: string) => `${order} ${operation}`,
};
