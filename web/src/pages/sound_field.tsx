import { useState } from 'preact/hooks';
import { hasMicrophone, record } from '../ask/microphone';
import { Mark } from '../marks/mark';
import { say } from '../words/say';
import { FileField } from './field';

const t = say.sound;
const kSeconds = 2.5;  // a pluck has died away by then

type Doing = 'idle' | 'asking' | 'listening' | 'heard';

function sentenceOf(error: DOMException): string {
  switch (error.name) {
    case 'NotAllowedError': return t.refused;
    case 'NotFoundError': return t.none;
    case 'TimeoutError': return t.silent;
    default: return t.failed(error.name);
  }
}

interface SoundFieldProps {
  label: string;
  hint: string;
  complaint: string | undefined;
  onFile: (file: File | undefined) => void;
}

/** A recording of a pluck: from the microphone where the browser lends it, or a file. */
export function SoundField({ onFile, ...field }: SoundFieldProps) {
  const [doing, setDoing] = useState<Doing>('idle');
  const [wrong, setWrong] = useState<string>();
  const start = async () => {
    setWrong(undefined);
    setDoing('asking');
    try {
      onFile(await record(kSeconds, () => setDoing('listening')));
      setDoing('heard');
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      setWrong(sentenceOf(error));
      setDoing('idle');
    }
  };
  const busy = doing === 'asking' || doing === 'listening';
  return (
    <div class="sound-field">
      {hasMicrophone()
        ? (
          <p class="sound-record">
            <button type="button" class="do" disabled={busy} onClick={start}>{doing === 'heard' ? t.again : t.record}</button>
            <span role="status">{t.doing[doing]}</span>
          </p>
        ) : <p class="hint">{t.notLent}</p>}
      {wrong && <p class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {wrong}</p>}
      <FileField {...field} onFile={(file) => { setDoing('idle'); onFile(file); }} />
    </div>
  );
}
