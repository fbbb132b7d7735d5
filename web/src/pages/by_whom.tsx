import { useState } from 'preact/hooks';
import { useMe } from '../frame/me';
import { ChoiceField } from './field';

export interface ByWhom {
  who: string;  // id; empty while nobody was chosen
  isSignedIn: boolean;
  choose: (id: string) => void;
}

/** Who writes something down: whoever is signed in; before people sign in, whoever is chosen. */
export function useByWhom(): ByWhom {
  const { view } = useMe();
  const [chosen, choose] = useState('');
  return { who: view.person || chosen, isSignedIn: view.person !== '', choose };
}

interface ByWhomFieldProps {
  by: ByWhom;
  label: string;
  people: { id: string; name: string }[];
  nobody?: string;  // shown until somebody was chosen
}

/** Asked for only where nobody is signed in: the server takes no other name from whoever is. */
export function ByWhomField({ by, label, people, nobody = '' }: ByWhomFieldProps) {
  if (by.isSignedIn) return null;
  const options = people.map((one): [string, string] => [one.id, one.name]);
  return <ChoiceField label={label} value={by.who} onValue={by.choose} options={[['', nobody], ...options]} />;
}
