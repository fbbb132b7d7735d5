import createClient from 'openapi-fetch';
import type { components, paths } from '../api';
import { isNobodyThere } from '../worker/ways';
import { say } from '../words/say';
import { hearClock } from './clock';
import { edition, hearEdition } from './edition';
import { lastTouch } from './touch';

/** Every answer of the server has the name it has in web/openapi.yaml. */
type Schemas = components['schemas'];
export type ErrorView = Schemas['Error'];
export type ShopView = Schemas['ShopView'];
export type BuildView = Schemas['BuildView'];
export type TodayView = Schemas['TodayView'];
export type TodayLine = Schemas['TodayLine'];
export type OrderLine = Schemas['OrderLine'];
export type OrderView = Schemas['OrderView'];
export type NewOrder = Schemas['NewOrder'];
export type SpecView = Schemas['SpecView'];
export type SlotView = Schemas['SlotView'];
export type FindingView = Schemas['FindingView'];
export type StepView = Schemas['StepView'];
export type NumberView = Schemas['NumberView'];
export type OutlineView = Schemas['OutlineView'];
export type PointView = Schemas['PointView'];
export type SlotChoicesView = Schemas['SlotChoicesView'];
export type ChoiceView = Schemas['ChoiceView'];
export type ClashView = Schemas['ClashView'];
export type BestView = Schemas['BestView'];
export type ChangeView = Schemas['ChangeView'];
export type RepairView = Schemas['RepairView'];
export type CompletionView = Schemas['CompletionView'];
export type FillView = Schemas['FillView'];
export type CompleteQuestion =
  NonNullable<paths['/api/orders/{id}/complete']['get']['parameters']['query']>;
export type Aim = NonNullable<CompleteQuestion['aim']>;
export type LifeView = Schemas['LifeView'];
export type NextMove = Schemas['NextMoveView'];
export type SayView = Schemas['SayView'];
export type FlagView = Schemas['FlagView'];
export type FreezeView = Schemas['FreezeView'];
export type SettlementView = Schemas['SettlementView'];
export type PromiseView = Schemas['PromiseView'];
export type KeptView = Schemas['KeptView'];
export type KeptBandView = Schemas['KeptBandView'];
export type FullestView = Schemas['FullestView'];
export type WeekLoadView = Schemas['WeekLoadView'];
export type LoadView = Schemas['LoadView'];
export type LabelsView = Schemas['LabelsView'];
export type LabelView = Schemas['LabelView'];
export type LabelSheetView = Schemas['LabelSheetView'];
export type LabelsQuestion = NonNullable<paths['/api/labels']['get']['parameters']['query']>;
export type MinutesLine = Schemas['MinutesLine'];
export type MinutesView = Schemas['MinutesView'];
export type SoonerView = Schemas['SoonerView'];
export type WayView = Schemas['WayView'];
export type PlanView = Schemas['PlanView'];
export type PersonPlan = Schemas['PersonPlan'];
export type BarView = Schemas['BarView'];
export type WindowView = Schemas['WindowView'];
export type ArrivalView = Schemas['ArrivalView'];
export type PlannedOrder = Schemas['PlannedOrder'];
export type OutOfDate = Schemas['OutOfDate'];
export type PlanWish = Partial<Schemas['PlanWish']> & { over: number };
export type ProposalView = Schemas['ProposalView'];
export type ChangeOfWork = Schemas['ChangeOfWork'];
export type ChangeOfDay = Schemas['ChangeOfDay'];
export type PlanFigures = Schemas['PlanFigures'];
export type PlanSettings = Schemas['PlanSettings'];
export type ImproveProgress = Schemas['ImproveProgress'];
export type PlacedView = Schemas['PlacedView'];
export type BuyView = Schemas['BuyView'];
export type BuyGroup = Schemas['BuyGroup'];
export type ArrivalsView = Schemas['ArrivalsView'];
export type ArrivalGroup = Schemas['ArrivalGroup'];
export type ArrivalLine = Schemas['ArrivalLine'];
export type SmallStockView = Schemas['SmallStockView'];
export type StockLineView = Schemas['StockLineView'];
export type Received = Schemas['Received'];
export type PartsView = Schemas['PartsView'];
export type PartView = Schemas['PartView'];
export type PartRow = Schemas['PartRow'];
export type FactView = Schemas['FactView'];
export type QuestionView = Schemas['QuestionView'];
export type NotKnownFact = Schemas['NotKnownFact'];
export type RecallLine = Schemas['RecallLine'];
export type RecallsView = Schemas['RecallsView'];
export type RecallView = Schemas['RecallView'];
export type CareView = Schemas['CareView'];
export type CareDueLine = Schemas['CareDueLine'];
export type ComingBackView = Schemas['ComingBackView'];
export type CareVisitView = Schemas['CareVisitView'];
export type CareOffer = Schemas['CareOffer'];
export type CareOperation = Schemas['CareOperation'];
export type VisitGiven = Schemas['VisitGiven'];
export type AskedGiven = Schemas['AskedGiven'];
export type BackGiven = Schemas['BackGiven'];
export type MakerView = Schemas['MakerView'];
export type MakerTableRow = Schemas['MakerTableRow'];
export type DifferenceView = Schemas['DifferenceView'];
export type RecalledBike = Schemas['RecalledBike'];
export type NotKnownView = Schemas['NotKnownView'];
export type FactGiven = Schemas['FactGiven'];
export type CatalogueView = Schemas['CatalogueView'];
export type Aid = Schemas['Aid'];
export type AidInput = Schemas['AidInput'];
export type Reckoned = Schemas['Reckoned'];
export type Does = Schemas['Does'];
export type Doing = Schemas['Doing'];
export type FilledAid = Schemas['FilledAid'];
export type FilledField = Schemas['FilledField'];
export type Scale = Schemas['AidScale'];
export type Band = Schemas['AidBand'];
export type WheelOnStand = Schemas['AidWheel'];
export type ColumnMapping = Schemas['ColumnMapping'];
export type ColumnView = Schemas['ColumnView'];
export type GivenList = Schemas['GivenList'];
export type ListRowView = Schemas['ListRowView'];
export type MappingView = Schemas['MappingView'];
export type PreviewView = Schemas['PreviewView'];
export type SheetColumn = Schemas['SheetColumn'];
export type TakeInView = Schemas['TakeInView'];
export type TakenListView = Schemas['TakenListView'];
export type UndoView = Schemas['UndoView'];
export type PurchaseView = Schemas['PurchaseView'];
export type MeView = Schemas['MeView'];
export type PeopleView = Schemas['PeopleView'];
export type PersonSignIn = Schemas['PersonSignIn'];
export type StationPerson = Schemas['StationPerson'];
export type FoundLine = Schemas['FoundLine'];
export type JournalReport = Schemas['JournalReport'];
export type Sheet = Schemas['Sheet'];
export type SheetStep = Schemas['SheetStep'];
export type SheetValue = Schemas['SheetValue'];
export type BenchListView = Schemas['BenchListView'];
export type BenchBike = Schemas['BenchBike'];
export type BenchNow = Schemas['BenchNow'];
export type BenchPerson = Schemas['BenchPerson'];
export type BenchView = Schemas['BenchView'];
export type WrittenView = Schemas['WrittenView'];
export type BenchOperation = Schemas['BenchOperation'];
export type BenchReading = Schemas['BenchReading'];
export type BenchPoint = Schemas['BenchPoint'];
export type BenchCheck = Schemas['BenchCheck'];
export type KitPart = Schemas['KitPart'];
export type ToolView = Schemas['ToolView'];
export type DeedGiven = Schemas['DeedGiven'];
export type DeedsGiven = Schemas['DeedsGiven'];
export type PhotoView = Schemas['PhotoView'];
export type PhotosView = Schemas['PhotosView'];
type BikePhotoGiven = NonNullable<paths['/api/bikes/{id}/photos']['post']['parameters']['query']>;
export type HistoryView = Schemas['HistoryView'];
export type TraceView = Schemas['TraceView'];
export type TraceQuestion = NonNullable<paths['/api/trace']['get']['parameters']['query']>;
export type Limit = Schemas['Limit'];
export type Changed = Schemas['Changed'];

/** The server said no, or could not be reached; `view.sentence` is for the person. */
export class Refusal extends Error {
  readonly view: ErrorView;
  readonly reached: boolean;
  readonly status: number;  // of HTTP; 0 when nobody was reached
  constructor(view: ErrorView, reached: boolean, status = 0) {
    super(view.sentence);
    this.view = view;
    this.reached = reached;
    this.status = status;
  }
}

const client = createClient<paths>({ baseUrl: '/' });
client.use({
  onResponse({ response }) {
    hearClock(response.headers.get('date'));
    hearEdition(response.headers.get('x-edition'));
    return undefined;
  },
});

/** A page asks anew whenever something changes; that alone must not keep a session alive. */
const kGone = 60_000;  // milliseconds without a touch
client.use({
  onRequest({ request }) {
    if (Date.now() - lastTouch() > kGone) request.headers.set('X-Nobody-Is-There', '1');
    // The server takes no change from pages of another edition than its own.
    if (edition !== '') request.headers.set('X-Edition', edition);
    return request;
  },
});

const whenSignedOut = new Set<() => void>();
/** Told when the server wants to know who asks. */
export function onSignedOut(listener: () => void): () => void {
  whenSignedOut.add(listener);
  return () => whenSignedOut.delete(listener);
}

interface Reply<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

function isErrorView(value: unknown): value is ErrorView {
  return typeof value === 'object' && value !== null && 'sentence' in value && 'code' in value;
}

const unavailable = (sentence: string): ErrorView =>
  ({ code: 'unavailable', sentence, file: '', line: 0, field: '', value: '' });

async function answer<T>(reply: Promise<Reply<T>>): Promise<T> {
  let got: Reply<T>;
  try {
    got = await reply;
  } catch {
    throw new Refusal(unavailable(say.noAnswer), false);
  }
  if (got.response.ok && got.data !== undefined) return got.data;
  if (got.response.status === 401) for (const listener of whenSignedOut) listener();
  // What stands before the server answers for it while it is away.
  if (!isErrorView(got.error) && isNobodyThere(got.response.status)) throw new Refusal(unavailable(say.noAnswer), false);
  if (isErrorView(got.error)) throw new Refusal(got.error, true, got.response.status);
  const sentence = say.strangeAnswer(got.response.status);
  throw new Refusal(unavailable(sentence), true, got.response.status);
}

const path = <T>(values: T) => ({ params: { path: values } });
/** A file as the body, just as it is. */
const asItIs = (file: Blob) => ({
  body: file as unknown as string,
  bodySerializer: () => file,
  headers: { 'Content-Type': 'application/octet-stream' },
});

/** What a page may ask and tell. */
export const ask = {
  shop: () => answer<ShopView>(client.GET('/api/shop')),
  today: () => answer<TodayView>(client.GET('/api/today')),
  orders: () => answer<OrderLine[]>(client.GET('/api/orders')),
  openOrder: (body: NewOrder) => answer<OrderView>(client.POST('/api/orders', { body })),
  order: (id: string) => answer<OrderView>(client.GET('/api/orders/{id}', path({ id }))),
  choices: (id: string, slot: string) =>
    answer<SlotChoicesView>(client.GET('/api/orders/{id}/choices/{slot}', path({ id, slot }))),
  choose: (id: string, slot: string, body: Schemas['Choose']) =>
    answer<OrderView>(
      client.PUT('/api/orders/{id}/choices/{slot}', { params: { path: { id, slot } }, body })),
  chooseAll: (id: string, body: Schemas['ChooseAll']) =>
    answer<OrderView>(
      client.POST('/api/orders/{id}/choices', { params: { path: { id } }, body })),
  complete: (id: string, query: CompleteQuestion) =>
    answer<CompletionView>(
      client.GET('/api/orders/{id}/complete', { params: { path: { id }, query } })),
  tradeOffs: (id: string) =>
    answer<CompletionView[]>(client.GET('/api/orders/{id}/trade-offs', path({ id }))),
  repairs: (id: string) =>
    answer<RepairView[]>(client.GET('/api/orders/{id}/repairs', path({ id }))),
  whyNot: (id: string, slot: string, part: string) =>
    answer<ClashView>(
      client.GET('/api/orders/{id}/why-not/{slot}/{part}', path({ id, slot, part }))),
  promise: (id: string, draws: number) =>
    answer<PromiseView>(client.GET('/api/orders/{id}/promise',
      { params: { path: { id }, query: { draws } } })),
  sooner: (id: string) =>
    answer<SoonerView>(client.GET('/api/orders/{id}/sooner', { params: { path: { id } } })),
  agree: (id: string, body: Schemas['Agree']) =>
    answer<OrderView>(client.POST('/api/orders/{id}/agree', { params: { path: { id } }, body })),
  life: (id: string) => answer<LifeView>(client.GET('/api/orders/{id}/life', path({ id }))),
  moveTo: (id: string, body: Schemas['MoveGiven']) =>
    answer<LifeView>(client.POST('/api/orders/{id}/move-to', { ...path({ id }), body })),
  setFlag: (id: string, body: Schemas['FlagChange']) =>
    answer<LifeView>(client.POST('/api/orders/{id}/flags', { ...path({ id }), body })),
  signSpec: (id: string, body: Schemas['SignGiven']) =>
    answer<LifeView>(client.POST('/api/orders/{id}/sign-spec', { ...path({ id }), body })),
  settlement: (id: string) =>
    answer<SettlementView>(client.GET('/api/orders/{id}/settlement', path({ id }))),
  answerQuestion: (id: string, question: string, body: Schemas['AnswerGiven']) =>
    answer<OrderView>(
      client.PUT('/api/orders/{id}/questions/{question}', { params: { path: { id, question } }, body })),
  setBudget: (id: string, body: Schemas['BudgetGiven']) =>
    answer<OrderView>(client.PUT('/api/orders/{id}/budget', { ...path({ id }), body })),
  followUp: (id: string, body: Schemas['FollowUpGiven']) =>
    answer<OrderView>(client.PUT('/api/orders/{id}/follow-up', { ...path({ id }), body })),
  notKnownFacts: () => answer<NotKnownView>(client.GET('/api/facts/not-known')),
  measureFact: (id: string, attribute: string, body: FactGiven) =>
    answer<PartView>(
      client.PUT('/api/parts/{id}/facts/{attribute}', { params: { path: { id, attribute } }, body })),
  sheet: (id: string) => answer<Sheet>(client.GET('/api/orders/{id}/sheet', path({ id }))),
  bench: () => answer<BenchListView>(client.GET('/api/bench')),
  benchBike: (id: string) => answer<BenchView>(client.GET('/api/bench/{id}', path({ id }))),
  writeRecord: (id: string, body: DeedsGiven, signal: AbortSignal) =>
    answer<WrittenView>(client.POST('/api/bench/{id}/record', { ...path({ id }), body, signal })),
  history: (id: string) => answer<HistoryView>(client.GET('/api/bikes/{id}/history', path({ id }))),
  photosOf: (id: string) => answer<PhotosView>(client.GET('/api/bikes/{id}/photos', path({ id }))),
  photographBike: (id: string, query: BikePhotoGiven, file: Blob) =>
    answer<PhotosView>(client.POST('/api/bikes/{id}/photos', { params: { path: { id }, query }, ...asItIs(file) })),
  photographGoods: (line: string, query: { claim: number; at: string }, file: Blob) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/photos', { params: { path: { line }, query }, ...asItIs(file) })),
  trace: (query: TraceQuestion) => answer<TraceView>(client.GET('/api/trace', { params: { query } })),
  plan: () => answer<PlanView>(client.GET('/api/plan')),
  load: () => answer<LoadView>(client.GET('/api/load')),
  propose: (wish: PlanWish) =>
    answer<ProposalView>(client.POST('/api/plan/proposals', { body: { stand: 0, unpin: false, ...wish } })),
  proposal: (id: string) =>
    answer<ProposalView>(client.GET('/api/plan/proposals/{id}', path({ id }))),
  improveProposal: (id: string, seconds: number) =>
    answer<ProposalView>(client.POST('/api/plan/proposals/{id}/improve', { ...path({ id }), body: { seconds } })),
  stopProposal: (id: string) =>
    answer<ProposalView>(client.POST('/api/plan/proposals/{id}/stop', { ...path({ id }), body: {} })),
  agreeProposal: (id: string) =>
    answer<PlanView>(client.POST('/api/plan/proposals/{id}/agree', { ...path({ id }), body: {} })),
  leaveProposal: (id: string) =>
    answer<PlanView>(client.POST('/api/plan/proposals/{id}/leave', { ...path({ id }), body: {} })),
  setPlan: (body: PlanSettings) => answer<PlanView>(client.PUT('/api/plan/settings', { body })),
  tellAbsence: (id: string, body: Schemas['DaysAway']) =>
    answer<PlanView>(client.POST('/api/people/{id}/absences', { ...path({ id }), body })),
  labels: (query: LabelsQuestion) => answer<LabelsView>(client.GET('/api/labels', { params: { query } })),
  /** Who works in the shop. */
  staff: async () => (await answer<Schemas['BenchListView']>(client.GET('/api/bench'))).people,
  comingBack: () => answer<ComingBackView>(client.GET('/api/care')),
  remindRider: (id: string, body: Schemas['RemindedGiven']) =>
    answer<CareView>(client.POST('/api/orders/{id}/care/reminded', { ...path({ id }), body })),
  care: (id: string) => answer<CareView>(client.GET('/api/orders/{id}/care', path({ id }))),
  openVisit: (id: string, body: VisitGiven) =>
    answer<CareView>(client.POST('/api/orders/{id}/care/visit', { ...path({ id }), body })),
  askInVisit: (id: string, body: AskedGiven) =>
    answer<CareView>(client.POST('/api/orders/{id}/care/asked', { ...path({ id }), body })),
  giveBack: (id: string, body: BackGiven) =>
    answer<CareView>(client.POST('/api/orders/{id}/care/back', { ...path({ id }), body })),
  maker: (id: string) => answer<MakerView>(client.GET('/api/orders/{id}/maker', path({ id }))),
  sendMakerForm: (id: string, body: Schemas['MakerFormGiven']) =>
    answer<MakerView>(client.POST('/api/orders/{id}/maker/form', { ...path({ id }), body })),
  takeMakerList: (id: string, body: Schemas['MakerListGiven']) =>
    answer<MakerView>(client.POST('/api/orders/{id}/maker/lists', { ...path({ id }), body })),
  answerDifference: (id: string, body: Schemas['DifferenceGiven']) =>
    answer<MakerView>(client.POST('/api/orders/{id}/maker/answers', { ...path({ id }), body })),
  recalls: () => answer<RecallsView>(client.GET('/api/recalls')),
  recall: (id: string) => answer<RecallView>(client.GET('/api/recalls/{id}', path({ id }))),
  openRecall: (body: Schemas['RecallGiven']) => answer<RecallView>(client.POST('/api/recalls', { body })),
  tellRecall: (id: string, body: Schemas['ToldGiven']) =>
    answer<RecallView>(client.POST('/api/recalls/{id}/told', { ...path({ id }), body })),
  closeRecall: (id: string, body: Schemas['RecallClosing']) =>
    answer<RecallView>(client.POST('/api/recalls/{id}/close', { ...path({ id }), body })),
  minutes: () => answer<MinutesView>(client.GET('/api/minutes')),
  kept: () => answer<KeptView>(client.GET('/api/kept')),
  buy: () => answer<BuyView>(client.GET('/api/buy')),
  place: (body: Schemas['PurchaseGiven']) => answer<PlacedView>(client.POST('/api/purchases', { body })),
  giveUp: (line: string, note: string) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/give-up', { ...path({ line }), body: { note } })),
  arrivals: () => answer<ArrivalsView>(client.GET('/api/arrivals')),
  arrival: (line: string) => answer<ArrivalLine>(client.GET('/api/arrivals/{line}', path({ line }))),
  receive: (line: string, body: Received) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/receive', { ...path({ line }), body })),
  miscounted: (line: string, body: Schemas['MiscountGiven']) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/miscounts', { ...path({ line }), body })),
  smallStock: () => answer<SmallStockView>(client.GET('/api/small-stock')),
  useUp: (id: string, body: Schemas['UseGiven']) =>
    answer<PartView>(client.POST('/api/parts/{id}/used', { ...path({ id }), body })),
  goodsStep: (line: string, body: Schemas['GoodsStep']) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/steps', { ...path({ line }), body })),
  claimStep: (line: string, body: Schemas['ClaimStep']) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/claims', { ...path({ line }), body })),
  legDone: (line: string, body: Schemas['LegGiven']) =>
    answer<ArrivalLine>(client.POST('/api/arrivals/{line}/legs', { ...path({ line }), body })),
  freightMode: (line: string, mode: string) =>
    answer<ArrivalLine>(client.PUT('/api/arrivals/{line}/mode', { ...path({ line }), body: { mode } })),
  confirmLine: (line: string, day: string) =>
    answer<ArrivalLine>(client.PUT('/api/arrivals/{line}/confirmed', { ...path({ line }), body: { day } })),
  parts: () => answer<PartsView>(client.GET('/api/parts')),
  part: (id: string) => answer<PartView>(client.GET('/api/parts/{id}', path({ id }))),
  catalogue: () => answer<CatalogueView>(client.GET('/api/catalogue')),
  proposeMapping: (body: GivenList) => answer<MappingView>(client.POST('/api/catalogue/propose', { body })),
  previewList: (body: GivenList) => answer<PreviewView>(client.POST('/api/catalogue/preview', { body })),
  takeInList: (body: Schemas['TakeInList']) => answer<TakeInView>(client.POST('/api/catalogue/import', { body })),
  takeBackList: (number: number) => answer<UndoView>(client.POST('/api/catalogue/undo', { body: { number } })),
  aids: () => answer<Aid[]>(client.GET('/api/aids')),
  reckon: (id: string, fields: Record<string, string>) =>
    answer<Reckoned>(client.GET('/api/aids/{id}', {
      params: { path: { id }, query: { fields } },
      querySerializer: () => new URLSearchParams(fields).toString(),
    })),
  reckonFromFile: (id: string, fields: Record<string, string>, file: Blob) =>
    answer<Reckoned>(client.POST('/api/aids/{id}', {
      params: { path: { id }, query: { fields } },
      querySerializer: () => new URLSearchParams(fields).toString(),
      ...asItIs(file),
    })),
  does: (id: string) => answer<Does>(client.GET('/api/orders/{id}/does', path({ id }))),
  /** `asked`: the end under "end", and whatever was typed over the order's values. */
  orderAid: (id: string, aid: string, asked: Record<string, string>) =>
    answer<FilledAid>(client.GET('/api/orders/{id}/aids/{aid}', {
      params: { path: { id, aid }, query: { fields: asked } },
      querySerializer: () => new URLSearchParams(asked).toString(),
    })),
  find: (q: string) =>
    answer<FoundLine[]>(client.GET('/api/find', { params: { query: { q } } })),
  me: () => answer<MeView>(client.GET('/api/me')),
  signIn: (person: string, password: string) => answer<MeView>(client.POST('/api/sign-in', { body: { person, password } })),
  signOut: () => answer<MeView>(client.POST('/api/sign-out', { body: {} })),
  firstOwner: (body: Schemas['OwnerGiven']) => answer<MeView>(client.POST('/api/people/first', { body })),
  people: () => answer<PeopleView>(client.GET('/api/people')),
  setPassword: (id: string, body: Schemas['PasswordGiven']) =>
    answer<PersonSignIn>(client.PUT('/api/people/{id}/password', { ...path({ id }), body })),
  setPin: (id: string, body: Schemas['PinGiven']) =>
    answer<PersonSignIn>(client.PUT('/api/people/{id}/pin', { ...path({ id }), body })),
  takeSignInAway: (id: string, your_password: string) =>
    answer<PersonSignIn>(client.POST('/api/people/{id}/take-away', { ...path({ id }), body: { your_password } })),
  pairStation: (name: string) => answer<MeView>(client.POST('/api/stations', { body: { name } })),
  leaveStation: (number: string) =>
    answer<PeopleView>(client.POST('/api/stations/{number}/leave', { ...path({ number }), body: {} })),
  benchPeople: () => answer<StationPerson[]>(client.GET('/api/bench/people')),
  benchSignIn: (person: string, pin: string) => answer<MeView>(client.POST('/api/bench/sign-in', { body: { person, pin } })),
  verifyJournal: () => answer<JournalReport>(client.GET('/api/journal/verify')),
};
