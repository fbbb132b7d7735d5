/** What the worker does with a question of the pages. */
export type Way =
  | 'pass'   // it is none of the worker's business: the browser asks the server
  | 'page'   // a page of the shop: from the server, and without it the start page that is kept
  | 'file';  // a file of the pages, whose name holds a hash of its content: as it is kept

export interface Question {
  method: string;
  mode: string;  // "navigate" for a page that is opened or loaded again
  url: string;
}

/**
 * Nothing under /api is ever answered by the worker, and nothing but a read: it holds the files of
 * the pages, which are the same for everybody, and knows nothing of the shop.
 */
export function wayOf(question: Question, origin: string, files: readonly string[]): Way {
  const url = new URL(question.url);
  if (question.method !== 'GET' || url.origin !== origin) return 'pass';
  if (url.pathname === '/api' || url.pathname.startsWith('/api/')) return 'pass';
  if (question.mode === 'navigate') return 'page';
  return url.search === '' && files.includes(url.pathname) ? 'file' : 'pass';
}

/** What stands before the shop's server says so when the server itself does not answer. */
export const isNobodyThere = (status: number) => status === 502 || status === 503 || status === 504;
