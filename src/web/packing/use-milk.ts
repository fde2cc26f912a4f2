/** The page's milk list, and entering changes to it. */
import { useRef, useState } from 'preact/hooks';
import type { MilkAnswer } from '../../app/packing/packing-answers.ts';
import type { StoredEntry } from '../../planning/milk/stored-ledger.ts';
import { postJson, type Refused } from '../parts/ask.ts';

/** Sends entries. @returns why they were not stored, or null */
export type EnterMilk = (
  body: { entries: StoredEntry[] } | { confirm: { feed: string; container: string } },
) => Promise<Refused | null>;

/** `enter` returns the error to its caller; `enterHere` shows it on the page as well. */
export function useMilk(first: MilkAnswer) {
  const [milk, setMilk] = useState(first);
  const [refused, setRefused] = useState<Refused | null>(null);
  // This device's clock may be wrong, so "now" is by the clock of the machine that stores the entries.
  const aheadMs = useRef(first.nowMs - Date.now());
  const now = (): number => Math.round(Date.now() + aheadMs.current);
  const enter: EnterMilk = async (body) => {
    const posted = await postJson<MilkAnswer>('/milk', body);
    if ('error' in posted) return posted.error;
    aheadMs.current = posted.answer.nowMs - Date.now();
    setMilk(posted.answer);
    return null;
  };
  const enterHere: EnterMilk = async (body) => {
    const error = await enter(body);
    setRefused(error);
    return error;
  };
  return { milk, now, enter, enterHere, refused };
}
