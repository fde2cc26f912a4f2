/** The sleeve's one button: a press means "burped / seen", held for 2 s or more it means "end of feed". */

export interface Button {
  /** Null before the first step: a button that is down from the start (stuck) is not a press. */
  wasDown: boolean | null;
  /** When the present press began, seconds; null without a press, or once it has asked for the end. */
  pressedAtSec: number | null;
}

export const createButton = (): Button => ({ wasDown: null, pressedAtSec: null });

/** One step, in place. @returns the events of this step */
export function stepButton(
  button: Button,
  down: boolean,
  atSec: number,
  longPressSec: number,
): 'press' | 'long-press' | null {
  const pressed = down && button.wasDown === false;
  button.wasDown = down;
  if (!down) button.pressedAtSec = null;
  if (pressed) {
    button.pressedAtSec = atSec;
    return 'press';
  }
  if (button.pressedAtSec !== null && atSec - button.pressedAtSec >= longPressSec) {
    button.pressedAtSec = null;
    return 'long-press';
  }
  return null;
}
