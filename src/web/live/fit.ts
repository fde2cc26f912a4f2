/**
 * Makes the big words as big as the stage allows: their longest word fits the line, and together with the line below
 * they leave the picture its room. Runs when the words change, never while they stand.
 */
import { useLayoutEffect, useRef } from 'preact/hooks';

/** Share of the stage's height that the big words may take. */
const WORDS_SHARE = 0.42;
/** A picture lower than this is hard to read at arm's length. CSS px. */
const PICTURE_LEAST_PX = 150;
/** Big words make room for the picture down to this size, which is still read at two meters; then the third line goes. */
const ROOM_SIZE_PX = 66;
/** For a long word on a narrow page they shrink further. */
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
  const picture = stage.querySelector('.picture');
  const isPictureLow = () => picture !== null && picture.clientHeight < PICTURE_LEAST_PX;
  const most = stage.clientHeight * WORDS_SHARE;
  delete stage.dataset.tight;
  delete stage.dataset.crowded;
  words.style.fontSize = '';
  let sizePx = Number.parseFloat(getComputedStyle(words).fontSize);
  const isTooLarge = () =>
    words.scrollWidth > words.clientWidth ||
    words.clientHeight > most ||
    (sizePx - STEP_PX >= ROOM_SIZE_PX && isPictureLow());
  while (sizePx > SIZE_LEAST_PX && isTooLarge()) {
    sizePx -= STEP_PX;
    words.style.fontSize = `${sizePx}px`;
  }
  if (isPictureLow()) stage.dataset.tight = '';
  // Words that still do not fit are a safety line: now the picture goes, and the words give way down to the least size.
  const block = stage.querySelector<HTMLElement>('.stage-words');
  const isCut = () => {
    const [inner, outer] = [block?.getBoundingClientRect(), stage.getBoundingClientRect()];
    return inner !== undefined && (inner.top < outer.top || inner.bottom > outer.bottom);
  };
  if (isCut()) stage.dataset.crowded = '';
  while (sizePx > SIZE_LEAST_PX && isCut()) {
    sizePx -= STEP_PX;
    words.style.fontSize = `${sizePx}px`;
  }
}
