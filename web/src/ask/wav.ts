/** One channel of sound as the content of a WAV file, 16 bits a sample. */
export function wavOf(samples: Float32Array, perSecond: number): ArrayBuffer {
  const kHead = 44;
  const bytes = samples.length * 2;
  const content = new ArrayBuffer(kHead + bytes);
  const view = new DataView(content);
  const word = (at: number, letters: string) => [...letters].forEach((letter, i) => view.setUint8(at + i, letter.charCodeAt(0)));
  word(0, 'RIFF');
  view.setUint32(4, kHead - 8 + bytes, true);
  word(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);  // whole numbers
  view.setUint16(22, 1, true);  // one channel
  view.setUint32(24, perSecond, true);
  view.setUint32(28, perSecond * 2, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  word(36, 'data');
  view.setUint32(40, bytes, true);
  samples.forEach((sample, i) => {
    const kept = Math.max(-1, Math.min(1, sample));
    view.setInt16(kHead + 2 * i, Math.round(kept * 0x7fff), true);
  });
  return content;
}

/** The pieces one after another. */
export function joined(pieces: Float32Array[]): Float32Array {
  const all = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}
