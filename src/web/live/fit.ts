/**
 * Makes the big words as big as the stage allows: their longest word fits the line, and together with the line below
 * they leave the picture its room. Runs when the words change, never while they stand.
 */
import { useLayoutEffect, useRef } from 'preact/hooks';

/** Share of the stage's height that the big words may take. */
const WORDS_SHARE = 0.42;
/** A picture lower than this is hard to read at arm's length; the third line of words then steps back. CSS px. */
const PICTURE_LEAST_PX = 150;
const SIZE_LEAST_PX = 36;
const STEP_PX = 2;

/** @param key  changes whenever the words or the picture do */
export function useFit(key: string) {
  const stage = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    const refit = () => stage.current && fitInto(stage.current);
    refit();
    addEventListener('resize', refit);
    return () => removeEventListener('resize', refit);
  }, [key]);
  return stage;
}

function fitInto(stage: HTMLElement): void {
  const words = stage.querySelector<HTMLElement>('.glance');
  if (!words) return;
  const most = stage.clientHeight * WORDS_SHARE;
  delete stage.dataset.tight;
  words.style.fontSize = '';
  let sizePx = Number.parseFloat(getComputedStyle(words).fontSize);
  while (sizePx > SIZE_LEAST_PX && (words.scrollWidth > words.clientWidth || words.clientHeight > most)) {
    sizePx -= STEP_PX;
    words.style.fontSize = `${sizePx}px`;
  }
  const picture = stage.querySelector('.picture');
  if (picture && picture.clientHeight < PICTURE_LEAST_PX) stage.dataset.tight = '';
}
