// Runs beside the page on the sound's own thread and hands each block of samples over as it comes.

declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, made: new () => AudioWorkletProcessor): void;

class Tape extends AudioWorkletProcessor {
  process(inputs: Float32Array[][]): boolean {
    const heard = inputs[0]?.[0];
    if (heard) this.port.postMessage(heard.slice());
    return true;
  }
}

registerProcessor('tape', Tape);

export {};
