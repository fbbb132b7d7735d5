/** An answer that does not come for so long may never come; it holds no other question up. */
const kPatience = 10_000;  // milliseconds

/**
 * Asks one question at a time. Wanted while an answer is on its way, however often, it is asked once more when
 * that is here: a dear question, wanted faster than it is answered, never queues. A question that gives nothing is
 * not to be asked now.
 */
export function oneAtATime(question: () => Promise<unknown> | undefined): () => void {
  let count = 0;
  let onItsWay = 0;  // which one; 0: none
  let since = 0;
  let isWanted = false;
  const ask = () => {
    isWanted = onItsWay > 0 && Date.now() - since < kPatience;
    if (isWanted) return;
    const answer = question();
    if (!answer) return;
    count += 1;
    const number = count;
    onItsWay = number;
    since = Date.now();
    void answer.finally(() => {
      if (onItsWay !== number) return;
      onItsWay = 0;
      if (isWanted) ask();
    });
  };
  return ask;
}
