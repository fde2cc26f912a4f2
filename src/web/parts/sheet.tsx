/** A panel that slides over the page from below, within reach of the thumb. Escape and a touch beside it close it. */
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { useChoices } from './choices.tsx';

export interface SheetProps {
  title: string;
  onClose: () => void;
  /** Covers the whole page instead of its lower part. */
  whole?: boolean;
  /** Text of the closing button; default "Close". */
  closeText?: string;
  children: ComponentChildren;
}

export function Sheet({ title, onClose, whole = false, closeText, children }: SheetProps) {
  const { texts } = useChoices();
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    if (!dialog.current?.open) dialog.current?.showModal();
  }, []);
  const closeBeside = (event: MouseEvent) => {
    if (event.target === dialog.current) onClose();
  };
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes a modal dialog by itself.
    <dialog
      ref={dialog}
      class={whole ? 'sheet whole' : 'sheet'}
      aria-labelledby={titleId}
      onClose={onClose}
      onClick={closeBeside}
    >
      <div class="sheet-body">
        <h2 id={titleId}>{title}</h2>
        {children}
        <button type="button" class="plain" onClick={onClose}>
          {closeText ?? texts.touch.close}
        </button>
      </div>
    </dialog>
  );
}
