/** What this device may do, so that a page offers nothing that would be refused. The server decides; this only asks it. */
import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import type { RightAnswer } from '../../server/answers.ts';
import { getJson } from './ask.ts';
import { isHostComputer } from './host-computer.ts';

export type Right = RightAnswer['right'];

const RANK: Record<Right, number> = { watch: 0, help: 1, owner: 2, all: 3 };
const AGAIN_MS = 2000;

/** @param right  null while unknown: then nothing is offered yet */
export const allows = (right: Right | null, needed: Right): boolean =>
  right !== null && RANK[right] >= RANK[needed];

const RightContext = createContext<Right | null>(null);

export function RightAround({ children }: { children: ComponentChildren }) {
  const [right, setRight] = useState<Right | null>(isHostComputer() ? 'all' : null);
  useEffect(() => {
    if (right !== null) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const ask = async () => {
      const asked = await getJson<RightAnswer>('/right');
      if ('answer' in asked) return setRight(asked.answer.right);
      timer = setTimeout(ask, AGAIN_MS);
    };
    ask();
    return () => clearTimeout(timer);
  }, []);
  return <RightContext.Provider value={right}>{children}</RightContext.Provider>;
}

export const useRight = (): Right | null => useContext(RightContext);

/** @returns a function that tells whether this device may do what needs the given right */
export function useMay(): (needed: Right) => boolean {
  const right = useRight();
  return (needed) => allows(right, needed);
}
