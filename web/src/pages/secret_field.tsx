import { Around, type FieldProps } from './field';

/** What nobody may read over a shoulder. `use` tells the browser's keeper of passwords what it is. */
export function SecretField({ value, onValue, use, digits, ...around }: FieldProps & {
  use: 'current-password' | 'new-password' | 'off';
  digits?: boolean;
}) {
  return (
    <Around {...around}>
      {({ id, describedBy, invalid }) => (
        <input id={id} type="password" value={value} autocomplete={use} aria-describedby={describedBy} aria-invalid={invalid}
          inputMode={digits ? 'numeric' : undefined} onInput={(event) => onValue(event.currentTarget.value)} />
      )}
    </Around>
  );
}
