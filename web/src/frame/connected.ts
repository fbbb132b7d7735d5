import { useEffect, useState } from 'preact/hooks';
import { isConnected, onConnection } from '../ask/events';

/** Whether the stream of events stands. */
export function useConnected(): boolean {
  const [connected, setConnected] = useState(isConnected());
  useEffect(() => onConnection(setConnected), []);
  return connected;
}
