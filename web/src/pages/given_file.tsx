import type { AidInput } from '../ask/ask';
import { FileField } from './field';
import { SoundField } from './sound_field';

interface GivenFileProps {
  input: AidInput;
  label?: string;
  hint?: string;
  complaint: string | undefined;
  onFile: (file: File | undefined) => void;
}

/** The field of a bench aid's file; sound can be recorded right there. */
export function GivenFile({ input, label = input.label, hint = input.help, ...more }: GivenFileProps) {
  return input.media === 'audio/wav'
    ? <SoundField label={label} hint={hint} {...more} />
    : <FileField label={label} hint={hint} {...more} />;
}
