/** Small line icons for the touch row, 24 × 24. */
import type { ComponentChildren } from 'preact';

const Icon = ({ children }: { children: ComponentChildren }) => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
    {children}
  </svg>
);

export const BurpedIcon = () => (
  <Icon>
    <circle cx="7.5" cy="17" r="3.8" />
    <circle cx="17" cy="13" r="2.6" />
    <circle cx="11.5" cy="5.5" r="1.7" />
  </Icon>
);
/** A light, crossed out. */
export const CuesOffIcon = () => (
  <Icon>
    <circle cx="12" cy="12" r="5" />
    <path d="M4 4l16 16M12 1.5v2M12 20.5v2M1.5 12h2M20.5 12h2" />
  </Icon>
);
export const SoundIcon = ({ on }: { on: boolean }) => (
  <Icon>
    <path d="M4 9.5v5h3.5L12 18.5v-13L7.5 9.5Z" />
    {on ? <path d="M15.5 9a4.5 4.5 0 0 1 0 6M18 6.5a8 8 0 0 1 0 11" /> : <path d="m16 9.5 5 5m0-5-5 5" />}
  </Icon>
);
export const DimIcon = () => (
  <Icon>
    <path d="M19 14.5A7.5 7.5 0 1 1 9.5 5a6 6 0 0 0 9.5 9.5Z" />
  </Icon>
);
export const MoreIcon = () => (
  <Icon>
    <path d="M4 8h16M4 16h10" />
  </Icon>
);
