import { count } from './count';

/**
 * Every sentence and word of the pages that does not come from the server, so that a translation is
 * one more file of this shape. Words of the trade (states, verdicts, standings) come from the server.
 */
const joined = (words: string[]) =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

export const say = {
  joined,
  noAnswer: 'The shop’s server does not answer. Is it running, and is this machine on the shop’s network?',
  strangeAnswer: (status: number) => `The server answered in a way this page does not understand (${status}).`,
  notConnected: (asOf: string) => `Not connected${asOf && `, as of ${asOf}`}. It catches up by itself.`,
  renewed: 'The program was renewed: this page is of its older edition, and nothing is written from it.', loadAgain: 'Load the page again',
  invented: (shop: string, town: string) => `${shop} in ${town} is invented: nobody here rides, sells or waits.`,
  asking: 'Asking the book …',
  again: 'Ask again',
  skip: 'Skip to the page',
  nav: { label: 'Pages', Today: 'Today', Orders: 'Orders', Parts: 'Parts', Plan: 'Plan', Bench: 'Bench', Records: 'Records' },
  theme: { paper: 'Paper', night: 'Night', turn: (to: string) => `Change to ${to.toLowerCase()}` },
  find: {
    label: 'Find an order, rider, part or serial',
    nothing: (words: string) => `Nothing in the book matches “${words}”.`,
    results: 'Found',
  },
  day: { none: 'no day yet' },
  or: 'or',

  today: {
    title: 'Today',
    nothing: 'Nothing needs anybody now. A good day to sweep the floor.',
    lines: (n: number) => `${count(n, 'thing needs', 'things need')} a person, dearest to miss first.`,
  },

  orders: {
    title: 'Orders',
    open: 'New order',
    none: 'The book is empty. The first order begins with a rider and what the bike is for.',
    noMatch: 'No order matches. Fewer words, or another state?',
    filter: 'Narrow by number, rider or need',
    states: 'Narrow by state',
    every: 'all states',
    number: 'Order', rider: 'Rider and need', state: 'State', verdict: 'Specification', parts: 'Parts here',
    promised: 'Promised', needed: 'Needed by', price: 'Price',
    here: (x: number, y: number) => `${x} of ${y}`,
    shown: (x: number, y: number) => (x === y ? count(y, 'order', 'orders') : `${x} of ${count(y, 'order', 'orders')}`),
  },

  newOrder: {
    title: 'New order',
    lead: 'A name and a wish are enough to begin; measures can follow once the rider is here.',
    rider: 'The rider', name: 'Name', contact: 'Telephone or mail', height: 'Height', inseam: 'Inside leg',
    mass: 'Mass, dressed',
    need: 'What the bike is for', words: 'In the rider’s own words',
    wordsHint: 'Where to, how often, what is carried, what hurt on the last bike.',
    useClass: 'Ground',
    ground: ['paved roads', 'roads and gravel', 'rough tracks', 'trails with drops', 'jumps and downhill'],
    luggage: 'Bags and passengers at most', child: 'A child seat will be fitted',
    region: 'Law of', assist: 'Assistance', brake: 'Front brake lever', left: 'left', right: 'right',
    route: 'Usual route', noRoute: 'none yet', freight: 'The bike leaves by freight',
    bike: 'The bike', build: 'Build', builtHere: 'built here', builtByMaker: 'built by its maker',
    neededBy: 'Needed by', neededByHint: 'Leave empty when any day will do.',
    begins: 'How far it is', beginsAs: 'It begins as', draft: 'a draft: the bike is talked over', enquiry: 'an enquiry: a first talk',
    enquiryHint: 'A name, a telephone number and a wish will do. Put into the wish what they mean to spend and when to call them; it is asked for once more when the enquiry becomes a draft.',
    submitEnquiry: 'Keep the enquiry', submit: 'Open the order', opening: 'Opening …', none: 'none',
    notNumber: (text: string, unit: string) => `“${text}” is no number. Write it in ${unit}, as in 172.`,
    optional: 'may be empty',
  },

  order: {
    spec: 'Specification', position: 'Position', part: 'Part', price: 'Price', mass: 'Mass', here: 'Here on',
    whole: 'The whole bike',
    open: (slot: string) => `Choices for the ${slot}`,
    nothingChosen: 'nothing chosen', empty: 'not chosen', emptyOptional: 'none', choose: 'choose',
    leaveEmpty: 'Leave this position empty',
    signed: 'The specification is signed: here is what else would have been possible.',
    chosen: 'chosen', same: 'same price', sameMass: 'same mass', massNotKnown: 'mass not known',
    whyNot: 'Why not?', clash: 'Without one of these it would fit:', clashNone: 'It clashes whatever else is chosen.',
    closedCount: (n: number) => `${count(n, 'part', 'parts')} cannot be part of this bike`,
    noChoices: 'The catalogue has no part for this position.',
    missing: (names: string[]) => `Still missing: ${joined(names)}.`,
    missingMany: (names: string[], rest: number) => `Still missing: ${names.join(', ')} and ${rest} more.`,
    allFits: 'Everything chosen fits.',
    checked: (n: number, notKnown: number, none: number) =>
      `${n} rules asked; ${notKnown} could not be answered; ${none} do not apply to this bike.`,
    massesNotKnown: (n: number) => `${count(n, 'mass is', 'masses are')} not known and not counted.`,
    findings: 'What to know', rule: 'rule', source: 'Source',
    held: (why: string) => `Held: ${why}.`,
    drawing: 'Side elevation', scaleBar: (mm: number) => `${mm} mm`,
    scaleNote: 'Drawn to scale from the makers’ measures; rings are where the rider touches the bike. Saddle, bar, tube widths and what hangs on the frame are only indicated.',
    describe: (rider: string, labels: string[]) => `The bike of ${rider} from the side, to scale. ${labels.join('; ')}.`,
    clashMark: 'clash',
    notDrawn: (points: string[]) => `The drawing needs places that are not known: ${points.map((p) => p.replace(/_/g, ' ')).join(', ')}.`,
    promise: 'The day', numbers: 'Numbers of this bike', holds: 'What holds it',
    numbersNone: 'No number can be computed before more parts are chosen.',
    draws: (n: number, seconds: number) => `${n.toLocaleString('en').replace(/,/g, '\u202f')} futures drawn in ${seconds.toFixed(2)} s.`,
    promised: 'promised',
    readyBy: 'Ready by', inCases: (p: number) => `${p} in 100`,
    curve: (d50: string, d90: string) => `Odds that the bike is ready, by day: 50 in 100 by ${d50}, 90 in 100 by ${d90}.`,
    notWhole: (n: number) => `${count(n, 'position is', 'positions are')} still empty: the day counts only what is chosen so far.`,
    promiseWaits: 'Drawing the futures …',
    rider: 'Rider', price1: 'Price', massAll: 'Mass', neededBy: 'Needed by', build: 'Build', route: 'Route',
    sheet: 'Bench sheet', pdf: 'Sheet to print (PDF)', full: 'Whole sheet',
    agree: 'Agree this bike', agreeDay: 'Promised day', agreeDeposit: 'Deposit', agreeNow: 'Agree', agreeing: 'Agreeing …',
    agreeLead: 'Both sign: this specification, this day, this deposit.',
    depositNotMoney: (text: string) => `“${text}” is no sum of money. Write it as in 740 or 740.50.`,
    conflict: 'Somebody else changed this order meanwhile. Here it is as it is now; please choose again.',
    states: 'States of this order', nowAt: 'now', done: 'done', toCome: 'to come',
    deposit: 'Deposit', choosing: 'Choosing …',
    ninety: (day: string) => `nine in ten by ${day}`,
    nowChosen: (slot: string, part: string) => `The ${slot} is now ${part}.`, nowEmpty: (slot: string) => `The ${slot} is empty now.`,
    undo: 'Undo', quantity: (n: number) => `× ${n}`,
  },

  editor: {
    // Beside each part: what choosing it would change.
    days: (n: number) =>
      (n === 0 ? 'same day' : `${count(Math.abs(n), 'day', 'days')} ${n < 0 ? 'sooner' : 'later'}`),
    dayNotKnown: 'no day known', notProven: 'not proven', nothing: '–', closed: 'cannot be chosen',
    notProvenWhy: 'The search was stopped before this was settled: better may be possible.',
    bareNotProven: 'The search was stopped before it was settled whether this part is possible.',
    openOf: (open: number, of: number) => `${open} of ${of} open`,
    openOne: 'Enter opens a position; the arrow keys lead from one to the next.',
    // The opened position.
    find: (slot: string) => `Find among the parts for the ${slot}`,
    findHere: (n: number) => `Find in ${count(n, 'part', 'parts')}: name, maker, number, “open”`,
    list: (slot: string) => `Parts for the ${slot}`,
    sortedBy: 'Sorted by', sorts: { fit: 'what fits', price: 'price', mass: 'mass', day: 'day' },
    shown: (shown: number, of: number, open: number) =>
      `${shown === of ? count(of, 'part', 'parts') : `${shown} of ${count(of, 'part', 'parts')}`}, `
      + `${open} open`,
    noMatch: (words: string) => `No part for this position matches “${words}”.`,
    keys: 'Arrow keys, Page and Home, End walk; Enter chooses; Escape closes; typing finds.',
    keysSigned: 'Arrow keys, Page and Home, End walk; Escape closes; typing finds.',
    hand: (part: string) => `About ${part}`, choose: 'Choose this part', page: 'All its facts',
    close: 'Close',
    // Why not, and what would open it.
    opens: 'What would open it', opensNone: 'No change of other parts was found that opens it.',
    takeOpening: 'Change and choose this part', takeRepair: 'Take it over',
    from: 'instead of', noPart: 'no part',
    repairs: 'What would mend it', repairsLead: 'Fewest changes first.',
    repairsNone: 'No set of changes was found after which a whole bike exists.',
    changedParts: 'these parts',
    // Marks on the drawing.
    markOf: (slots: string, verdict: string, sentences: string[]) =>
      `${slots}: ${verdict}. ${sentences.join(' ')}`,
    // How much is still possible.
    bikes: (possible: string, fitting: string, exact: boolean) =>
      `${exact ? '' : 'At most '}${possible} bikes can still be built, `
      + `${fitting === possible ? 'all' : fitting} of them with every fact known.`,
    oneBike: 'This is the one bike that can still be built.',
    noBike: 'No whole bike can be built with these choices.',
    best: (words: string[]) => `From here: ${words.join(', ')}.`,
    atLeast: (price: string) => `${price} at the cheapest`,
    lightest: (mass: string) => `${mass} at the lightest`,
    soonest: (day: string) => `parts here by ${day} at the soonest`,
    // Filling the rest.
    fill: 'Fill the rest', fillLead: 'What is chosen stays; the rest becomes',
    aims: {
      cheapest: 'cheapest', lightest: 'lightest', soonest: 'soonest', weighted: 'weighed',
    },
    compare: 'compare', perKg: 'A kilogram less is worth', perDay: 'A day sooner is worth',
    weigh: 'Weigh',
    perNotMoney: (text: string) => `“${text}” is no sum of money. Write it as in 40 or 12.50.`,
    searching: 'Searching all bikes …',
    filled: 'What would be filled', nothingToFill: 'There is nothing left to fill.',
    take: 'Take it over', put: 'Put it away',
    total: 'The whole bike', ready: (day: string) => `parts here by ${day}`,
    notReady: 'some part cannot be had', noDay: 'no day',
    tradeOffs: 'Price, mass and day', tradeLead: 'None of these is at once cheaper, lighter and '
      + 'sooner than another.',
    tradeOne: 'One bike is cheapest, lightest and soonest at once: there is nothing to trade.',
    tradeChart: (n: number) => `${count(n, 'bike', 'bikes')} by price and mass, to scale.`,
    tradePoint: (name: string, price: string, mass: string, day: string) =>
      `${name}: ${price}, ${mass}, ${day}`,
    priceAxis: 'price', massAxis: 'mass', bike: 'Bike',
    tookOver: (n: number) => `${count(n, 'position was', 'positions were')} changed in one step.`,
  },

  bench: {
    title: 'Bench', lead: 'Bikes that are kitted, on a stand or waiting for a check.',
    none: 'No bike is kitted or on a stand.',
    of: (n: number) => `of ${n}`,
    next: 'Next', previous: 'Back', whole: 'Whole sheet', leave: 'All bikes',
    limits: 'Limits', keptToo: (sources: string[]) => `Keeps too: ${sources.join('; ')}.`, value: 'Value', set: 'Set', times: (n: number) => `${n} times`,
    passFail: 'pass or not', stop: 'stop: outside its limits the bike does not leave',
    hands: (n: number) => `${n} people at once, from its start to its end.`,
    tools: 'Tools', consumables: 'Uses up', cautions: 'Take care', second: 'A second person signs, not one who did the work.',
    wait: (t: string) => `Then it must wait ${t} untouched.`, minutes: (a: string, b: string) => `${a} to ${b}`,
    done: 'done', steps: 'Steps', printed: 'Bench sheet', stepByStep: 'Step by step', print: 'Print', parts: 'Parts of this bike', checks: 'Checks',
    serial: 'serial', open: 'Not known, and needed here', work: (a: string, b: string) => `${a} to ${b} of work`,
    chain: (a: string, b: string) => `${a} to ${b} at least from first to last, with enough people`,
    reading: 'reading', signed: 'signed', after: 'after',
    safety: 'What is printed on a part, its maker’s sheet and local law come before this sheet.',
    noValues: 'Nothing to set or to read in this step.',
  },

  parts: {
    title: 'Parts', buy: 'Buying list', toMeasure: 'To measure', none: 'The catalogue is empty.', noMatch: 'No part matches.',
    filter: 'Narrow by words', kind: 'Kind', every: 'every kind', openOnly: 'with facts not known',
    number: 'Number', name: 'Part', price: 'Price', mass: 'Mass', facts: 'Facts', shelf: 'On the shelf', putBy: 'Put by', underWay: 'Under way',
    known: 'known', measured: 'measured', notKnown: 'not known', gone: 'no longer made',
    shown: (x: number, y: number) => (x === y ? count(y, 'part', 'parts') : `${x} of ${count(y, 'part', 'parts')}`),
    purchases: 'Purchases under way', purchasesNone: 'Nothing is on its way.',
    purchase: 'Purchase', supplier: 'Supplier', quantity: 'Pieces', forOrder: 'For', placed: 'Placed', confirmed: 'Confirmed for', state: 'State', stock: 'the shelf', notConfirmed: 'not yet',
    page: {
      facts: 'Facts', attribute: 'Fact', value: 'Value', standing: 'Standing', source: 'From', decisive: 'decides what fits',
      offers: 'Who sells it', article: 'their number', lead: 'Lead time', days: (a: string, b: string) => `${a} working days, nine times in ten within ${b}`,
      offersNone: 'Nobody sells it to us.', usedIn: 'Bikes with this part', enter: (n: number) => `Write down what is not known yet (${n})`,
      factsNone: 'Nothing is stated of this part.', basis: 'from', by: 'by',
    },
  },

  buying: {
    title: 'Buying list', forShelf: 'the shelf', cutOff: (t: string) => `Orders before ${t} leave the same day.`, clock: (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`, part: 'Part', quantity: 'Pieces', orders: 'For', by: 'Order by', needed: 'Needed', lead: 'Lead time', inTime: 'In time', cost: 'Cost',
    order: (day: string, name: string) => `${day}: ${name}`, pieces: (needed: number) => `${needed} needed`,
    kits: 'Kits that are not all in hand', kitsHow: 'How sure each is on its day, if all is bought as proposed.', forOrder: 'Order', kitDay: 'Complete by', toBuy: 'To buy', underWay: 'Under way', complete: 'Complete', weakest: 'Weakest part',
    loans: 'Could be lent',
    tooLate: 'too late for 97 kits in 100', goods: 'Goods', freight: 'freight', surcharge: 'surcharge', total: 'Together', noOffer: 'Nobody sells us', none: 'Nothing has to be bought now.',
    each: (sum: string) => `${sum} each`, days: (a: string, b: string) => `${a} working days, nine in ten within ${b}`,
  },

  questions: {
    title: 'Questions', yes: 'Yes', no: 'No', notYet: 'Not yet', note: 'Note, may be empty', rule: 'Rule', answered: 'Answered', again: 'Answer again',
    noteOn: (id: string) => `Note on ${id}`, answerTo: (id: string) => `Answer to ${id}`,
    forWhom: (who: string) => `For the ${who}.`,
    count: (open: number, answered: number) =>
      open === 0 ? `All ${count(answered, 'question is', 'questions are')} answered.` : `${open} to answer, ${answered} answered. Yes means that all is well.`,
  },

  toMeasure: {
    title: 'To measure', lead: 'What holds most orders stands first.',
    how: 'How it is known', measured: 'measured here', known: 'read in a document', by: 'Measured by', tool: 'With', document: 'Document', documentDay: 'Of the day',
    save: 'Save', saved: (name: string, of: string, value: string) => `Saved: ${name} of ${of}, ${value}.`,
    holds: (n: number) => `Holds ${count(n, 'order', 'orders')}:`,
    offers: 'Known, more could be offered for:',
    rules: (n: number, severity: string) => `${count(n, 'rule asks', 'rules ask')}, worst ${severity}`,
    looksAt: (what: string) => `looks at ${what}.`,
    several: (words: string[]) => `One or more of ${words.join(', ')}, with | between them.`,
    onTheOrder: 'It belongs to order',
  },

  aids: {
    title: 'Bench aids', lead: 'Calculations for the stand. None needs an order.', answer: 'What it comes to',
    reset: 'As it was at first', mend: 'Mend the marked field first.', none: (id: string) => `There is no bench aid called “${id}”.`,
    wantsFile: 'Choose the file first.',
    band: (title: string, end: string) => `${title}; at the end ${end}`, bandKey: 'Middle of all days; eight of ten days lie in the tinted band.',
    source: (keys: string) => `Sources: ${keys}.`, scale: (title: string, n: number) => `${title}: ${count(n, 'mark', 'marks')} along a line`,
  },

  sound: {
    record: 'Listen to a pluck', again: 'Listen again',
    doing: {
      idle: '', asking: 'The browser asks whether it may listen.', listening: 'Listening: pluck the spoke or the belt now, once.',
      heard: 'Heard. The answer is of this recording.',
    },
    refused: 'The browser was not allowed to listen. Allow the microphone for this page, or choose a WAV file.',
    none: 'This machine has no microphone. Choose a WAV file.',
    silent: 'The microphone handed nothing over. Choose a WAV file.',
    failed: (name: string) => `The microphone could not be used (${name}). Choose a WAV file.`,
    notLent: 'Over this connection the browser lends no microphone to the page: choose a WAV file.',
  },

  wheel: {
    atStand: 'The same at the stand, large',
    drawing: (spokes: number, turned: number) =>
      `The wheel with ${count(spokes, 'spoke', 'spokes')}, ${turned === 0 ? 'none' : turned} of them to be turned`,
    keyNow: 'the rim now', keyAfter: 'expected after the turns', keyAllowed: 'what is allowed', keyBent: 'the rim itself is bent here',
    keyRings: 'Outer ring: sideways, outside is left. Inner ring: up and down, inside is towards the axle.',
    keySides: 'Full spokes hang from the left flange, broken ones from the right. The first spoke is on top.',
    keyTurns: 'At the nipples: quarter turns. Filled: tighter, clockwise seen from the tyre. Open: looser.',
    scaleBar: (mm: number) => `${mm}\u00a0mm of run-out`,
    tensions: 'Tensions, N',
    tensionsKey: 'Bars now, give or take one standard uncertainty; the stroke is the target of the side; dots are expected after the turns.',
    highest: (newton: number) => `no spoke above ${newton}\u00a0N`,
  },

  wheelCard: {
    title: (end: string) => `${end === 'front' ? 'Front' : 'Rear'} wheel`, card: 'Wheel card',
    link: (end: string) => `Wheel card, ${end}`, stand: (end: string) => `Truing stand, ${end}`,
    links: 'Wheels laced here', print: 'Print', other: (end: string) => `${end === 'front' ? 'Front' : 'Rear'} wheel`,
    open: 'Not known, and needed here', whole: 'The whole wheel', from: 'From',
    toStand: 'To the truing stand', correct: 'Try other values',
    checked: 'Read at the end', sideways: 'sideways, mm', upright: 'up and down, mm', dish: 'off the middle, mm',
    left: 'tension left, N', right: 'tension right, N', by: 'built by, day',
  },

  truing: {
    link: 'Truing stand', title: 'Truing stand', wheelOf: (end: string) => `${end} wheel`,
    all: 'Bench', steps: 'Steps',
    readings: 'Readings', turns: 'Turns', measures: 'The wheel', seeTurns: 'See the turns',
    pass: (n: number) => (n === 1 ? 'First pass' : `Pass ${n}`),
    sideways: 'Sideways', sidewaysHint: 'mm, plus is towards the left',
    upright: 'Up and down', uprightHint: 'mm, plus is towards the axle',
    zeros: 'The gauges may stand at any zero; they only must stay there once around.',
    place: (n: number) => `place ${n}`, atSpoke: (n: number) => `spoke ${n}`, places: 'Places around the rim',
    tensions: 'Tensions, N: spoke by spoke, may stay empty', tension: (n: number) => `tension of spoke ${n}`,
    tensionsRead: (n: number, of: number) => (n === 0 ? 'none read' : `${n} of ${of} read`),
    dish: 'Rim off the middle, mm, to the left', dishHint: 'may stay empty: then it is only kept from moving',
    read: (n: number, of: number) => `${n} of ${of} read`,
    pad: 'Number pad', sign: 'plus or minus', erase: 'Erase', next: 'Next', point: 'Point',
    asking: 'Reckoning …',
    first: 'Read the rim once around first.', toReadings: 'To the readings',
    list: 'Turns, once around the rim',
    spoke: (n: number, side: string) => `Spoke ${n}, ${side}`, done: 'done',
    tickAll: (n: number, of: number) => `${n} of ${of} are ticked: tick the others, or none.`,
    again: 'Turn back a little after each, for the wind-up; then read again.',
    takeBack: 'The last turns were not made: take that back',
    anew: 'Begin this wheel anew', anewSure: (n: number) => `Forget ${count(n, 'pass', 'passes')} and all readings of this wheel?`,
    anewYes: 'Forget them', anewNo: 'Keep them',
    measuresLead: 'What the wheel is made of and how true it is to be.',
    fromOrder: 'As the order says', asPreset: 'As it was at first', toWheel: 'Type them here',
    notKnown: (n: number) => `${count(n, 'thing of this wheel is', 'things of this wheel are')} not known; until then nothing is reckoned.`, anyWheel: 'The stand for any wheel',
  },

  records: {
    title: 'Records', find: 'Find', findLead: 'Orders, riders, parts and their serials, ten years back.', journal: 'The journal',
    lead: 'Every change of the book is one entry that carries the mark of the entry before it. If anybody alters an old entry, the marks no longer follow from one another.',
    verify: 'Check the journal', checking: 'Checking …', whole: 'whole', broken: 'broken', entries: (n: string) => `${n} entries`, hash: 'Mark of the last entry',
  },

  nothing: { title: 'No such page', sentence: (path: string) => `The shop has no page at ${path}.`, home: 'Go to today' },
  us: 'US',
};
