/** Requests a plan. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import { postJson, type Refused } from '../parts/ask.ts';

/** The request; the server fills in what is null. */
export interface Ask {
  /** Id of the baby, or its name where it has no id. */
  baby: string | null;
  birthDay: string;
  day: string;
  from: string;
  until: string;
  feeds: number | null;
  /** The baby is ill now. */
  ill: boolean;
}

/** Two touches on one button are further apart than this, ms; the request waits for it. */
const PAUSE_MS = 250;

/**
 * The answer to the latest request; the answer before stays until it comes.
 * @param asked  null while something is missing
 * @param anew   a changed value repeats the request: a rule was changed
 */
export function usePlan(
  asked: Ask | null,
  anew: unknown,
): { answer: PackingAnswer | null; error: Refused | null } {
  const [answer, setAnswer] = useState<PackingAnswer | null>(null);
  const [error, setError] = useState<Refused | null>(null);
  const isFirst = useRef(true);
  const key = asked && JSON.stringify(asked);
  useEffect(() => {
    if (!asked) return;
    const gone = new AbortController();
    const timer = setTimeout(
      async () => {
        const posted = await postJson<PackingAnswer>('/packing/plan', asked, gone.signal);
        if (gone.signal.aborted) return;
        if ('answer' in posted) setAnswer(posted.answer);
        setError('error' in posted ? posted.error : null);
      },
      isFirst.current ? 0 : PAUSE_MS,
    );
    isFirst.current = false;
    return () => {
      clearTimeout(timer);
      gone.abort();
    };
  }, [key, anew]);
  return { answer, error };
}
