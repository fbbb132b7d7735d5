import { createContext, type RefObject } from 'preact';
import { useContext, useEffect, useMemo } from 'preact/hooks';
import { ask, type BenchPerson, type BenchView, type DeedGiven, type ToolView } from '../ask/ask';
import { isConnected } from '../ask/events';
import { type Answered, concernsOrder, foresee, useAnswer } from '../ask/use_answer';
import { landed, onWritten, seenUpTo, type Taken, writeDown, writes } from '../ask/write_down';
import { usePersonChosen } from '../frame/person';
import { useStore } from '../frame/store';
import { aheadOf } from './bench_ahead';

/** One bike at this tablet: how it is, counting what waits here, and how to write into its record. */
export interface Stand {
  view: BenchView;
  waits: ReadonlySet<string>;
  person: BenchPerson | undefined;
  people: BenchPerson[];
  tools: ToolView[];
  write: (words: string, deeds: DeedGiven[]) => Promise<Taken>;
  takeTool: RefObject<((id: string) => void) | undefined>;  // while a reading is open
}

const Here = createContext<Stand | undefined>(undefined);
export const StandIs = Here.Provider;

export function useStand(): Stand {
  const stand = useContext(Here);
  if (!stand) throw new Error('A piece of the stand was drawn before its bike was known.');
  return stand;
}

export const useBench = () => useAnswer('bench', ask.bench);

/** Whoever said to be at this tablet, when the shop knows them. */
export function usePerson(people: BenchPerson[] | undefined): BenchPerson | undefined {
  const id = usePersonChosen();
  return people?.find((one) => one.id === id);
}

const bikeKey = (id: string) => `bench ${id}`;

const kForeseenAnew = 300_000;  // milliseconds

/** Bikes in hand open also when the network goes before they were looked at. */
export function useForeseen(orders: string[]) {
  const all = orders.join(' ');
  useEffect(() => {
    const look = () => {
      if (!isConnected()) return;
      for (const id of orders) foresee(bikeKey(id), () => ask.benchBike(id));
    };
    look();
    const timer = setInterval(look, kForeseenAnew);
    return () => clearInterval(timer);
  }, [all]);
}

export function useBike(id: string): Answered<BenchView> {
  const answered = useAnswer(bikeKey(id), () => ask.benchBike(id), concernsOrder(id));
  const { again, value } = answered;
  useEffect(() => onWritten((order) => {
    if (order === id) again();
  }), [id, again]);
  useEffect(() => {
    if (value) seenUpTo(value.order, value.last);
  }, [value]);
  return answered;
}

/** The bike with what was written and what waits here on top, drawn anew only when one of them changed. */
export function useAhead(view: BenchView, people: BenchPerson[]) {
  const waiting = useStore(writes);
  const written = useStore(landed);
  return useMemo(
    () => aheadOf(view, waiting, (id) => people.find((one) => one.id === id)?.name ?? id, written),
    [view, waiting, people, written],
  );
}

export const writerFor = (order: string, person: BenchPerson | undefined): Stand['write'] =>
  async (words, deeds) => {
    if (!person) return { how: 'refused', sentence: '' };  // the deeds that ask for this are not offered then
    return writeDown({ order, who: person.id, words, deeds });
  };
