/** Labels scanned one by one, and what the house says of them. */
import { useRef, useState } from 'preact/hooks';
import type { BindAnswer } from '../../app/ward/ward-answers.ts';
import { postJson, type Refused } from '../parts/ask.ts';
import { soundStop } from './stop-sound.ts';

interface Scanned {
  /** Of the binding that is not whole yet. */
  codes: readonly string[];
  answer: BindAnswer | null;
}

const NOTHING: Scanned = { codes: [], answer: null };

/** @param onBegun called when nothing is scanned any more */
export function useBinding(onBegun: () => void) {
  const [{ answer }, setScanned] = useState(NOTHING);
  // What is shown follows a moment later; the next label needs it at once.
  const scanned = useRef(NOTHING);
  const lastScan = useRef(Promise.resolve());
  const [refused, setRefused] = useState<Refused | null>(null);
  const [isReleased, setReleased] = useState(false);
  const become = (next: Scanned) => {
    scanned.current = next;
    setScanned(next);
  };
  const begin = () => {
    setReleased(false);
    become(NOTHING);
    setRefused(null);
    onBegun();
  };
  const ask = async (code: string) => {
    const { codes, answer } = scanned.current;
    // After a result or an error the next label starts a new binding; after a stop it does not, so that scanning cannot dismiss the stop.
    if (answer?.state === 'stop') return;
    const next = answer?.state === 'bound' ? [code] : [...new Set([...codes, code])];
    const posted = await postJson<BindAnswer>('/bind', { codes: next });
    if ('error' in posted) return setRefused(posted.error);
    const said = posted.answer;
    setRefused(null);
    setReleased(false);
    if (said.state === 'stop') soundStop();
    become({ codes: said.state === 'more' ? next : [], answer: said });
  };
  /** One label after the other: a second one must not be asked about without the first, nor take back the stop that it is told. */
  const scan = (text: string) => {
    const code = text.trim();
    if (code !== '') lastScan.current = lastScan.current.then(() => ask(code));
  };
  const release = async (code: string) => {
    const posted = await postJson('/release', { code });
    if ('error' in posted) return setRefused(posted.error);
    begin();
    setReleased(true);
  };
  return { answer, refused, isReleased, scan, release, begin };
}
