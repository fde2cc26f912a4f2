/** The sheet of ways on. It is not the shown page's own: one that is fetched still, and then comes, does not take it away. */
import { type ComponentChildren, createContext } from 'preact';
import { useCallback, useContext, useEffect, useState } from 'preact/hooks';
import { useChoices } from './choices.tsx';
import { Sheet } from './sheet.tsx';
import { LanguageChoice, PageLinks, UnitChoice } from './ways.tsx';

const Opening = createContext<() => void>(() => {});

/** @returns what opens the sheet */
export const useMore = () => useContext(Opening);

export function MoreAround({ children }: { children: ComponentChildren }) {
  const { texts } = useChoices();
  const [isOpen, setOpen] = useState(false);
  const open = useCallback(() => setOpen(true), []);
  const close = useCallback(() => setOpen(false), []);
  useEffect(() => {
    addEventListener('hashchange', close);
    return () => removeEventListener('hashchange', close);
  }, []);
  return (
    <Opening.Provider value={open}>
      {children}
      {isOpen && (
        <Sheet title={texts.touch.more} onClose={close}>
          <PageLinks />
          <LanguageChoice />
          <UnitChoice />
        </Sheet>
      )}
    </Opening.Provider>
  );
}
