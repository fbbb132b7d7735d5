import type { ErrorView, NewOrder } from '../ask/ask';
import { say } from '../words/say';

/** What stands in the fields of a new order, as typed. */
export interface OrderForm {
  state: 'Enquiry' | 'Draft';
  name: string;
  contact: string;
  height: string;  // cm
  inseam: string;  // cm
  mass: string;    // kg
  words: string;
  useClass: string;
  luggage: string;  // kg
  childSeat: boolean;
  region: string;
  assist: string;
  brake: string;
  route: string;
  byFreight: boolean;
  build: string;
  neededBy: string;
  budget: string;   // of the shop's currency
  budgetNothing: boolean;
  followUp: string;
  followUpAbout: string;
}

export type FieldName = keyof OrderForm;
export type Complaints = Partial<Record<FieldName, string>>;

export const kEmptyForm: OrderForm = {
  state: 'Draft', name: '', contact: '', height: '', inseam: '', mass: '', words: '', useClass: '1', luggage: '',
  childSeat: false, region: 'EU', assist: '25 km/h', brake: 'left', route: '', byFreight: false,
  build: '', neededBy: '', budget: '', budgetNothing: false, followUp: '', followUpAbout: '',
};

/** Name of each field in the JSON of the server. */
const kPaths: Record<FieldName, string> = {
  state: 'state', name: 'rider.name', contact: 'rider.contact', height: 'rider.height_mm',
  inseam: 'rider.inseam_mm', mass: 'rider.mass_kg', words: 'need.words', useClass: 'need.use_class',
  luggage: 'need.luggage_kg', childSeat: 'need.child_seat', region: 'need.region',
  assist: 'need.assist_class', brake: 'need.front_brake_lever', route: 'need.route',
  byFreight: 'need.by_freight', build: 'build', neededBy: 'needed_by',
  budget: 'budget.at_most_cents', budgetNothing: 'budget.nothing_said', followUp: 'follow_up.day',
  followUpAbout: 'follow_up.about',
};

/** The field that a refusal of the server is about; undefined when it is about none of them. */
export function fieldOf(error: ErrorView): FieldName | undefined {
  const bare = (path: string) => (path.split('.').pop() ?? '').replace(/_(mm|kg)$/, '');
  const names = Object.keys(kPaths) as FieldName[];
  return names.find((name) => kPaths[name] === error.field) ??
    names.find((name) => error.field !== '' && bare(kPaths[name]) === bare(error.field));
}

const kNumber = /^\d+([.,]\d+)?$/;

/** A typed number, times `size`; null when the field is empty, undefined when it is no number. */
export function typedNumber(text: string, size = 1): number | null | undefined {
  const bare = text.trim();
  if (bare === '') return null;
  return kNumber.test(bare) ? Number(bare.replace(',', '.')) * size : undefined;
}

/** What is sent, or which fields hold no number. All other judging is the server's. */
export function orderOf(form: OrderForm): { order: NewOrder } | { complaints: Complaints } {
  const complaints: Complaints = {};
  const number = (field: 'height' | 'inseam' | 'mass' | 'luggage' | 'budget', unit: string, size = 1) => {
    const value = typedNumber(form[field], size);
    if (value === undefined) complaints[field] = say.newOrder.notNumber(form[field].trim(), unit);
    return value ?? null;
  };
  const rider = {
    name: form.name.trim(), contact: form.contact.trim(),
    height_mm: number('height', 'cm', 10), inseam_mm: number('inseam', 'cm', 10),
    mass_kg: number('mass', 'kg'),
  };
  const luggage_kg = number('luggage', 'kg') ?? 0;
  const cents = number('budget', say.newOrder.money, 100);
  if (form.budgetNothing && form.budget.trim() !== '') complaints.budget = say.newOrder.eitherBudget;
  const about = form.followUpAbout.trim();
  if (about !== '' && form.followUp === '') complaints.followUp = say.newOrder.followUpDay;
  if (Object.keys(complaints).length > 0) return { complaints };
  return {
    order: {
      rider,
      need: {
        words: form.words.trim(), use_class: Number(form.useClass), luggage_kg,
        child_seat: form.childSeat, region: form.region, assist_class: form.assist,
        front_brake_lever: form.brake, route: form.route, by_freight: form.byFreight,
      },
      build: form.build, needed_by: form.neededBy || null, choices: {}, state: form.state,
      budget: cents === null && !form.budgetNothing ? null
        : { at_most_cents: cents === null ? null : Math.round(cents), nothing_said: form.budgetNothing },
      follow_up: form.followUp === '' ? null : { day: form.followUp, about },
    },
  };
}
