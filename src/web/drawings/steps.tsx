/** Three drawings of the steps before the first suck, 340 × 240, in the style of cues.tsx. */
import type { ComponentChildren, ComponentType } from 'preact';
import { Bottle } from './bottle.tsx';

/** Baby sits upright against whoever feeds. */
function UprightAndClose() {
  return (
    <>
      <path class="ink" d="M84,112 C80,130 50,132 36,150 C18,172 14,204 14,246" />
      <path
        class="ink solid"
        d="M132,62 C132,90 114,112 90,112 C62,112 44,90 44,60 C44,32 64,12 90,12 C116,12 132,34 132,62Z"
      />
      <path class="ink" d="M44,56 C60,56 76,46 84,30 C94,44 112,52 130,50 M100,74 q8,6 15,0" />
      <path
        class="ink solid"
        d="M158,150 C142,176 138,212 142,246 H276 C284,226 272,210 250,208 L214,206 C218,184 214,166 204,152"
      />
      <circle class="ink solid" cx="182" cy="112" r="45" />
      <path class="ink" d="M192,108 q8,6 16,0 M150,118 C142,108 156,98 162,108 C166,118 156,126 155,132" />
      <path class="ink" d="M180,67 C176,55 190,51 192,61" />
      <g transform="translate(222,134) scale(0.52)">
        <Bottle />
      </g>
      <path
        class="ink solid"
        d="M38,182 C48,214 74,232 108,234 C142,236 172,226 200,212 C210,206 206,194 194,196 C164,204 128,208 104,196 C92,190 84,182 80,170"
      />
      <path class="gesture" d="M320,236 V58 M302,78 L320,56 L338,78" />
    </>
  );
}

/** The bottle is level, above a level line. */
function LevelBottle() {
  return (
    <>
      <g transform="translate(48,98) scale(1.55)">
        <Bottle />
      </g>
      <path class="ink" d="M50,102 H86" />
      <path class="gesture" d="M24,196 H316" />
    </>
  );
}

/** An open mouth, with the nipple in front of it. */
function OpenMouth() {
  return (
    <>
      <circle class="ink solid" cx="96" cy="122" r="92" />
      <path class="ink" d="M70,96 v18 M128,96 v18 M94,30 C88,12 110,8 114,24" />
      <ellipse class="gesture-fill" cx="124" cy="160" rx="24" ry="26" />
      <g transform="translate(196,160) scale(1.02)">
        <Bottle />
      </g>
      <circle class="gesture-fill" cx="226" cy="84" r="9" />
      <circle class="gesture-fill" cx="262" cy="84" r="9" />
      <circle class="gesture-fill" cx="298" cy="84" r="9" />
    </>
  );
}

const Drawn = ({ children }: { children: ComponentChildren }) => (
  <svg class="picture" viewBox="0 0 340 240" aria-hidden="true" focusable="false">
    {children}
  </svg>
);

const asPicture = (Drawing: ComponentType) =>
  function StepPicture() {
    return (
      <Drawn>
        <Drawing />
      </Drawn>
    );
  };

/** In the order in which they are done. */
export const STEP_PICTURES: readonly ComponentType[] = [UprightAndClose, LevelBottle, OpenMouth].map(
  asPicture,
);
