import { useState } from 'preact/hooks';
import type { BenchListView, DeedGiven, KitPart } from '../ask/ask';
import { useMe } from '../frame/me';
import { choosePerson } from '../frame/person';
import { type BenchTab, benchPath, benchTabPath } from '../frame/route';
import { go } from '../frame/travel';
import { bench } from '../words/bench';
import { isSameId, placeInKit, placesOfPart, type Scanned, scannedIn } from './scanned';
import type { Stand } from './stand';

const t = bench.scan;

/** What binds a part: its own number, or the lot it carries, or only that it is in hand. */
export function kittedDeed(part: KitPart, mark: string): DeedGiven {
  const number = mark === '' ? {} : part.has_serial ? { serial: mark } : { lot: mark };
  return { deed: 'kitted', about: part.slot, ...number };
}

interface Around {
  list: BenchListView;
  stand: Stand | undefined;  // none where no bike is open
  tab: BenchTab;
  ask: (text: string, parts: KitPart[]) => void;
}

/** What each code that is scanned does on a page of the bench, and what is said to it. */
export function useScans({ list, stand, tab, ask }: Around) {
  const [said, setSaid] = useState('');
  const signedIn = useMe().view.person !== '';

  const write = async (words: string, deed: DeedGiven, done: string) => {
    if (!stand?.person) return setSaid(bench.why.nobody);
    const taken = await stand.write(words, [deed]);
    return setSaid(taken.how === 'refused' ? taken.sentence : done);
  };
  const bind = (part: KitPart, mark: string) =>
    write(`${part.position} ${mark}: ${bench.deeds['kitted']}`, kittedDeed(part, mark), `${part.position} ${mark}: ${bench.deeds['kitted']}.`);

  const person = (id: string) => {
    if (signedIn) return setSaid(t.signIn);
    const found = list.people.find((one) => isSameId(one.id, id));
    if (found) choosePerson(found.id);
    setSaid(found ? t.person(found.name) : t.noPerson(id));
  };
  const open = (id: string, path: (id: string) => string) => {
    setSaid('');
    go(path(list.bikes.find((bike) => isSameId(bike.order, id))?.order ?? id));
  };
  const tool = (id: string) => {
    if (!list.tools.some((one) => isSameId(one.id, id))) return setSaid(t.noTool(id));
    if (!stand?.takeTool.current) return setSaid(t.tool(id));
    setSaid('');
    return stand.takeTool.current(id);
  };
  const wheel = (id: string, which: 'front_wheel' | 'rear_wheel') => {
    const words = bench.wheels[which] ?? which;
    if (!stand) return setSaid(t.wheelHere);
    if (!isSameId(stand.view.order, id)) return setSaid(t.otherWheel(words, id, stand.view.order));
    return void write(`${words}: ${bench.deeds['paired']}`, { deed: 'paired', about: which }, t.paired(words));
  };
  const bin = (id: string) => {
    if (!stand) return setSaid(t.mark(id));
    const places = placesOfPart(stand.view.kit, id);
    const [only] = places;
    if (!only) return setSaid(t.noPlace(id));
    if (only.has_serial) return setSaid(t.scanNumber(only.position));
    return void bind(only, '');
  };
  const mark = (text: string) => {
    if (!stand || tab !== 'kit') return setSaid(t.mark(text));
    const meant = placeInKit(stand.view.kit, text);
    if (meant.how === 'there') return setSaid(t.isThere(meant.part.position));
    setSaid('');
    return meant.how === 'bind' ? void bind(meant.part, text) : ask(text, meant.parts);
  };

  const take = (code: Scanned) => {
    switch (code.kind) {
      case 'order': return open(code.id, (id) => benchPath(id));
      case 'kit': return open(code.id, (id) => benchTabPath(id, 'kit'));
      case 'person': return person(code.id);
      case 'tool': return tool(code.id);
      case 'wheel': return wheel(code.id, code.wheel);
      case 'bin': return bin(code.id);
      case 'mark': return mark(code.text);
      case 'mistyped': return setSaid(t.mistyped);
    }
  };
  return { said, onCode: (text: string) => void take(scannedIn(text)), onLate: () => setSaid(t.late), bind: (part: KitPart, text: string) => void bind(part, text) };
}
