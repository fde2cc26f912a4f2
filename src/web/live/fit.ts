/**
 * Sets the size of the big words to the stage: their longest word fits the line, and words and the line below leave enough
 * room for the picture. Runs when the words change, never in between.
 */
import { useLayoutEffect, useRef } from 'preact/hooks';

/** Share of the stage's height that the big words may take. */
const WORDS_SHARE = 0.42;
/** Least height of the picture, CSS px; a lower one is hard to read at arm's length. */
const PICTURE_LEAST_PX = 150;
/** Big words shrink to this size to make room for the picture; it is still readable at two meters. Then the third line is dropped. */
const ROOM_SIZE_PX = 66;
/** Least size, for a long word on a narrow page. */
const SIZE_LEAST_PX = 36;
const STEP_PX = 2;

/** @param key  changes whenever the words or the picture change */
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
  // If words that include a safety line still do not fit, the picture is dropped and the words shrink to the least size.
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
