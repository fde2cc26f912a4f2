/**
 * One drawing for each cue, 340 × 240. Ink shows the present state; the one heavy colored stroke shows what to do.
 */
import { Bottle, BottleOutline } from './bottle.tsx';

/** The bottle's bottom comes down; the teat stays where it is. */
export function LowerTheBottom() {
  return (
    <>
      <g transform="translate(112,112) rotate(-34)">
        <BottleOutline />
      </g>
      <g transform="translate(106,116) rotate(11)">
        <path class="ink solid" d="M84,-28 q0,-11 8,-11 q8,0 9,11 q1,-12 9,-12 q8,0 8,12" />
        <Bottle />
        <path
          class="ink solid"
          d="M80,29 C74,46 84,64 106,70 L150,112 M186,84 L142,46 C138,38 132,32 126,29"
        />
        <path class="ink solid" d="M80,32 C77,18 82,-4 91,-4 C100,-4 100,10 104,30" />
      </g>
      <path class="ink" d="M42,150 C28,166 20,200 18,246 M102,246 C100,210 94,182 82,158" />
      <path
        class="ink solid"
        d="M80,156 C94,156 104,150 106,140 C107,135 111,132 111,127 L108,118 L112,109 C116,106 126,105 125,98 C123,92 116,88 115,79 C114,50 92,30 62,30 C30,30 8,54 8,88 C8,120 26,142 44,150"
      />
      <path class="ink" d="M91,83 q7,6 14,0" />
      <path class="ink" d="M48,94 C42,84 54,76 60,86 C64,96 54,104 52,110" />
      <path class="ink" d="M62,30 C58,18 70,12 74,22" />
      <path class="gesture down" d="M277,28 C302,60 312,100 305,142 M282,124 L304,148 L329,129" />
    </>
  );
}

/** Baby upright at the shoulder, patted on the back. */
export function BurpAtTheShoulder() {
  return (
    <>
      <UprightAtTheShoulder />
      <path class="gesture pat" d="M268,112 C278,130 278,152 266,170 M296,92 C314,124 314,160 294,190" />
    </>
  );
}

/** Baby upright at the shoulder, held. */
export function UprightAtTheShoulder() {
  return (
    <>
      <path class="ink" d="M86,112 C82,128 50,128 36,146 C18,170 14,204 14,246" />
      <path
        class="ink solid"
        d="M132,64 C132,92 114,114 90,114 C62,114 44,92 44,62 C44,34 64,14 90,14 C116,14 132,36 132,64Z"
      />
      <path class="ink" d="M44,58 C60,58 76,48 84,32 C94,46 112,54 130,52" />
      <path class="ink" d="M96,74 q8,6 15,0" />
      <path
        class="ink solid"
        d="M158,126 C206,122 236,160 234,204 C233,232 214,246 190,246 H126 C118,220 118,170 132,138"
      />
      <path
        class="ink solid"
        d="M174,134 C148,140 124,126 120,104 C116,78 134,56 162,54 C190,54 210,74 208,100 C206,118 194,130 174,134Z"
      />
      <path class="ink" d="M134,98 q7,6 14,0" />
      <path class="ink" d="M176,104 C170,94 182,86 188,96 C192,106 182,114 180,120" />
      <path class="ink" d="M168,54 C166,42 178,38 181,47" />
      <path
        class="ink solid"
        d="M40,176 C44,206 62,232 92,240 C140,250 190,226 222,186 L240,156 C246,144 244,134 236,134 C230,134 227,138 224,146 C222,136 214,134 211,140 C206,150 200,158 190,166 C160,194 130,206 108,202 C98,200 92,192 88,180"
      />
    </>
  );
}

/** Baby lies in one arm; the dotted place is the other. */
export function OtherArm() {
  return (
    <>
      <path class="ink" d="M146,84 C142,100 100,98 82,112 M194,84 C198,100 240,98 258,112" />
      <circle class="ink solid" cx="170" cy="50" r="38" />
      <path class="ink" d="M133,44 C152,46 164,36 170,24 C178,36 190,46 207,44" />
      <path class="ink" d="M146,60 q7,6 14,0 M180,60 q7,6 14,0" />
      <path class="ink solid" d="M64,196 C40,180 40,128 82,112 M40,170 C44,216 84,236 140,232 L190,226" />
      <path
        class="ink solid"
        d="M86,170 C110,150 160,150 186,176 C200,192 190,214 164,216 C130,218 96,218 84,204"
      />
      <circle class="ink solid" cx="76" cy="166" r="34" />
      <path class="ink" d="M78,166 q7,6 14,0 M70,132 C66,121 78,115 82,124" />
      <circle class="ink dots" cx="264" cy="166" r="34" />
      <path class="ink dots" d="M258,112 C300,128 304,170 296,190 C284,226 250,234 200,232" />
      <path class="gesture across" d="M112,128 C138,104 196,104 222,124 M194,126 L225,128 L226,97" />
    </>
  );
}

/** An eye on a face that has turned from the bottle, mouth closed, hand open. */
export function LookAtFace() {
  return (
    <>
      <g transform="translate(106,200) rotate(158)">
        <Bottle />
      </g>
      <path
        class="ink solid"
        d="M196,24 C248,22 284,60 284,106 C284,114 292,122 290,128 C288,134 280,132 279,138 C277,180 244,206 200,206 C148,206 112,166 112,116 C112,64 148,26 196,24Z"
      />
      <path class="ink" d="M206,104 q12,10 24,0 M252,104 q9,8 18,0" />
      <path class="ink" d="M232,166 q14,3 24,-3" />
      <path class="ink" d="M146,126 C134,108 158,96 166,114 C172,130 154,142 152,154" />
      <path class="ink" d="M194,24 C188,8 206,0 211,14" />
      <path
        class="ink solid"
        d="M282,246 C276,232 272,222 270,212 C268,204 278,200 282,208 L287,219 L286,192 C286,183 297,183 298,192 L300,214 L306,188 C308,180 318,182 317,191 L313,216 L323,200 C328,193 337,199 333,207 C326,222 322,234 322,246"
      />
      <path class="gesture gaze" d="M12,62 C36,24 82,24 106,62 C82,98 36,98 12,62Z" />
      <circle class="gesture-fill" cx="59" cy="61" r="15" />
    </>
  );
}
