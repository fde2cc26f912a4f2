/** The bottle in its sleeve; the teat's tip is at (0, 0), the bottle extends 160 along x. */

const BODY =
  'M50,-29 H146 Q160,-29 160,-16 V16 Q160,29 146,29 H50 C42,29 42,21 36,21 V-21 C42,-21 42,-29 50,-29Z';
const COLLAR = 'M24,-23 H32 Q36,-23 36,-19 V19 Q36,23 32,23 H24Z';
const TEAT = 'M24,-16 C19,-15 18,-9 10,-8 L3,-7 C-4,-6 -4,6 3,7 L10,8 C18,9 19,15 24,16Z';

export function Bottle() {
  return (
    <g class="ink solid">
      <path d={BODY} />
      <path d={COLLAR} />
      <path d={TEAT} />
      <path d="M68,-29 V29 M130,-29 V29" />
    </g>
  );
}

/** A former position of the bottle, or an outline that cannot be trusted. */
export const BottleOutline = () => <path class="ink dots" d={BODY} />;
/** Outline with teat, for a bottle that the sleeve does not detect. */
export const BottleOutlineWhole = () => <path class="ink dots" d={`${BODY} ${COLLAR} ${TEAT}`} />;
