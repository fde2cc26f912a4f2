/** Drawings for states without a cue, 340 × 240: ink only, since there is nothing to do. */
import { Bottle, BottleOutlineWhole } from './bottle.tsx';

/** The bottle stands on a table, still. */
export function StandingBottle() {
  return (
    <>
      <path class="ink" d="M70,216 H270" />
      <g transform="translate(170,52) rotate(90)">
        <Bottle />
      </g>
    </>
  );
}

/** The bottle is there, but the sleeve does not detect it. */
export function UnfeltBottle() {
  return (
    <g transform="translate(36,112) rotate(8) scale(1.68)">
      <BottleOutlineWhole />
    </g>
  );
}

/** A plug drawn out of its socket. */
export function PulledPlug() {
  return (
    <g class="ink">
      <path d="M-12,120 H58 M58,120 C58,92 78,84 104,84 H122 V156 H104 C78,156 58,148 58,120Z M122,104 H148 M122,136 H148" />
      <path d="M352,120 H286 M206,84 H240 C266,84 286,94 286,120 C286,146 266,156 240,156 H206Z M206,104 H218 M206,136 H218" />
    </g>
  );
}

/** A light with its rays, crossed out. */
export function LightOff() {
  return (
    <g class="ink">
      <circle cx="170" cy="120" r="44" />
      <path d="M170,30 V50 M170,190 V210 M80,120 H100 M240,120 H260 M106,56 L120,70 M234,56 L220,70 M106,184 L120,170" />
      <path d="M64,14 L276,226" />
    </g>
  );
}

/** A light in a box: it exists, and is withheld. */
export function BoxedLight() {
  return (
    <g class="ink">
      <circle cx="170" cy="124" r="40" />
      <path d="M78,40 H262 V208 H78Z M78,40 L58,16 M262,40 L282,16" />
    </g>
  );
}

/** The bottle is held steeply over the mouth; the dotted line is level. */
export function SteepBottle() {
  return (
    <>
      <path class="ink dots" d="M92,206 H330" />
      <path class="ink" d="M252,202 A158,158 0 0 0 184,82" />
      <g transform="translate(88,202) rotate(-58) scale(1.2)">
        <Bottle />
      </g>
    </>
  );
}
