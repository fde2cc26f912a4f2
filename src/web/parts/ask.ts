/** Requests from the page to its own server. */
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
    const { error }: ErrorAnswer = await response.json();
    return error;
  } catch {
    return UNREACHED;
  }
}

export type Asked<T> = { answer: T } | { error: Refused };

/** Never throws. */
async function asked<T>(
  address: string,
  request: RequestInit,
  read: (response: Response) => Promise<T>,
): Promise<Asked<T>> {
  try {
    const response = await fetch(address, request);
    return response.ok ? { answer: await read(response) } : { error: await refusedBy(response) };
  } catch {
    return { error: UNREACHED };
  }
}

const withBody = (body: unknown): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
});

/** The server's answers have the types given in its routes. */
const read = <T>(response: Response): Promise<T> => response.json();

export const getJson = <T>(address: string, signal?: AbortSignal): Promise<Asked<T>> =>
  asked<T>(address, signal ? { signal } : {}, read);

/** Sends JSON and reads JSON. */
export const postJson = <T>(address: string, body: unknown = {}, signal?: AbortSignal): Promise<Asked<T>> =>
  asked<T>(address, { ...withBody(body), ...(signal && { signal }) }, read);

/** @returns null when it was done, else the reason; code `UNREACHED` if the server could not be reached */
export async function send(command: LiveCommand): Promise<Refused | null> {
  const posted = await asked('/live/commands', withBody(command), async () => null);
  return 'error' in posted ? posted.error : null;
}

/** Requests each address once. */
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

export const useJson = <T>(address: string): Answer<T> => useAnswer<T>(address, read);
