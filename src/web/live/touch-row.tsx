/** All actions that take one touch, within reach of the thumb. */
import type { ComponentChildren } from 'preact';
import type { LiveCommand, LiveView } from '../../feed/live/live-view.ts';
import { BurpedIcon, CuesOffIcon, DimIcon, SoundIcon } from '../drawings/icons.tsx';
import { useChoices } from '../parts/choices.tsx';

interface TouchProps {
  label: string;
  icon: ComponentChildren;
  pressed?: boolean;
  disabled?: boolean;
  onTouch: () => void;
}

function Touch({ label, icon, pressed, disabled = false, onTouch }: TouchProps) {
  return (
    <button type="button" class="touch" aria-pressed={pressed} disabled={disabled} onClick={onTouch}>
      {icon}
      <span>{label}</span>
    </button>
  );
}

export interface TouchRowProps {
  view: LiveView | null;
  onCommand: (command: LiveCommand) => void;
}

export function TouchRow({ view, onCommand }: TouchRowProps) {
  const { texts } = useChoices();
  const soundOn = view ? !view.muted : false;
  const toggle = (kind: 'mute' | 'dim' | 'guidance-off', on: boolean) => () => onCommand({ kind, on });
  return (
    <div class="touch-row">
      <Touch
        label={texts.touch.burped}
        icon={<BurpedIcon />}
        disabled={view?.feedState !== 'open'}
        onTouch={() => onCommand({ kind: 'burped' })}
      />
      <Touch
        label={texts.touch.cuesOff}
        icon={<CuesOffIcon />}
        pressed={view?.guidanceOff ?? false}
        onTouch={toggle('guidance-off', !view?.guidanceOff)}
      />
      <Touch
        label={texts.touch.sound}
        icon={<SoundIcon on={soundOn} />}
        pressed={soundOn}
        onTouch={toggle('mute', soundOn)}
      />
      <Touch
        label={texts.touch.dim}
        icon={<DimIcon />}
        pressed={view?.dimmed ?? false}
        onTouch={toggle('dim', !view?.dimmed)}
      />
    </div>
  );
}
