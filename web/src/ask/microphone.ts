import tape from './tape.worklet.ts?worker&url';
import { joined, wavOf } from './wav';

/** Browsers lend the microphone only to pages of this machine or behind TLS. */
export const hasMicrophone = (): boolean =>
  window.isSecureContext && typeof AudioWorkletNode !== 'undefined' && !!navigator.mediaDevices?.getUserMedia;

/** What browsers do to voices would bend the pitch of a spoke. */
const asItIs: MediaStreamConstraints = {
  audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
};

/** Collects samples until so many seconds are there. */
function listen(context: AudioContext, stream: MediaStream, seconds: number): Promise<Float32Array> {
  const source = context.createMediaStreamSource(stream);
  const node = new AudioWorkletNode(context, 'tape', { numberOfOutputs: 0, channelCount: 1, channelCountMode: 'explicit' });
  source.connect(node);
  const pieces: Float32Array[] = [];
  let count = 0;
  return new Promise((resolve, reject) => {
    const silence = setTimeout(() => reject(new DOMException('', 'TimeoutError')), (seconds + 5) * 1000);
    node.port.onmessage = ({ data }: MessageEvent<Float32Array>) => {
      pieces.push(data);
      count += data.length;
      if (count < seconds * context.sampleRate) return;
      clearTimeout(silence);
      source.disconnect();
      resolve(joined(pieces));
    };
  });
}

/**
 * Records from now on. Throws a DOMException as the browser does: NotAllowedError when the person or
 * the browser refuses, NotFoundError without a microphone, TimeoutError when it hands nothing over.
 */
export async function record(seconds: number, onListening: () => void): Promise<File> {
  const stream = await navigator.mediaDevices.getUserMedia(asItIs);
  const context = new AudioContext();
  try {
    await context.audioWorklet.addModule(tape);
    await context.resume();
    onListening();
    const heard = await listen(context, stream, seconds);
    return new File([wavOf(heard, context.sampleRate)], 'pluck.wav', { type: 'audio/wav' });
  } finally {
    stream.getTracks().forEach((track) => track.stop());
    await context.close();
  }
}
