import { useMe } from './me';
import { createStore, useStore } from './store';

/**
 * Who stands at this tablet: the id of a person of the shop, empty while nobody said. Once people sign in
 * it is whoever is signed in; before, whoever was chosen.
 */
const kKey = 'rollwright.at_the_bench';

function kept(): string {
  try {
    return localStorage.getItem(kKey) ?? '';
  } catch {
    return '';  // storage may be forbidden; then it is asked again after each visit
  }
}

const chosen = createStore<string>(kept());

export function choosePerson(id: string) {
  try {
    localStorage.setItem(kKey, id);
  } catch {
    // It holds until the page is left.
  }
  chosen.set(id);
}

export function usePersonChosen(): string {
  const before = useStore(chosen);
  return useMe().view.person || before;
}
