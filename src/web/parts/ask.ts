/** Requests of the page to its own server. */
import { useEffect, useState } from 'preact/hooks';
import type { LiveCommand } from '../../feed/live/live-view.ts';
import type { ErrorAnswer } from '../../server/answers.ts';

export type Refused = ErrorAnswer['error'];
export type Answer<T> =
  | { state: 'asking' }
  | { state: 'here'; answer: T }
  | { state: 'refused'; error: Refused };

export const UNREACHED: Refused = { code: 'unreached', message: '', remedy: '' };

/** Why the server refused. */
export async function refusedBy(response: Response): Promise<Refused> {
  try {
    return ((await response.json()) as ErrorAnswer).error;
  } catch {
    return UNREACHED;
  }
}

/** @returns null when it was done, else why not; code `UNREACHED` when Ebbline could not be reached. */
export async function send(command: LiveCommand): Promise<Refused | null> {
  try {
    const response = await fetch('/live/commands', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(command),
    });
    return response.ok ? null : await refusedBy(response);
  } catch {
    return UNREACHED;
  }
}

/** Asks once for each address. */
export function useAnswer<T>(address: string, read: (response: Response) => Promise<T>): Answer<T> {
  const [answer, setAnswer] = useState<Answer<T>>({ state: 'asking' });
  useEffect(() => {
    const gone = new AbortController();
    const ask = async (): Promise<Answer<T>> => {
      const response = await fetch(address, { signal: gone.signal });
      if (!response.ok) return { state: 'refused', error: await refusedBy(response) };
      return { state: 'here', answer: await read(response) };
    };
    ask()
      .catch((): Answer<T> => ({ state: 'refused', error: UNREACHED }))
      .then((now) => {
        if (!gone.signal.aborted) setAnswer(now);
      });
    return () => gone.abort();
  }, [address]);
  return answer;
}

export const useJson = <T>(address: string): Answer<T> =>
  useAnswer<T>(address, (response) => response.json() as Promise<T>);
