/** Scanning labels: by a scanner that types, by the tablet's camera if the browser can read codes, or typed by hand. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { BindAnswer } from '../../app/ward/ward-answers.ts';
import type { StopCode } from '../../ward/binding/bind.ts';
import type { LabelKind } from '../../ward/labels/label.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { canSee, lookForCodes } from './camera.ts';
import { clockHere } from './times.ts';
import { useBinding } from './use-binding.ts';
import { WARD_WORDS } from './ward-words.ts';

const KINDS = ['child', 'bottle', 'sleeve'] as const;

export function BindPage() {
  const { language } = useChoices();
  const own = WARD_WORDS[language];
  const input = useRef<HTMLInputElement>(null);
  // A scanner types into the focused element, so the focus is in this field as soon as it is there, and stays in it.
  const focus = () => input.current?.focus();
  useLayoutEffect(focus, []);
  const { answer, refused, isReleased, scan, release, begin } = useBinding(focus);
  return (
    <div class="binding">
      <h2>{own.bind}</h2>
      <p>{own.bindSay}</p>
      <form
        class="scan"
        onSubmit={(event) => {
          event.preventDefault();
          const field = input.current!;
          scan(field.value);
          field.value = '';
        }}
      >
        <div class="field">
          <label for="scan-code">{own.code}</label>
          <input
            ref={input}
            id="scan-code"
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            enterkeyhint="done"
          />
        </div>
        <button type="submit">{own.enter}</button>
        <Camera onCode={scan} />
      </form>
      {refused && <RefusedNotice error={refused} />}
      <div role="alert">{answer?.state === 'stop' && <Stop stop={answer.stop} />}</div>
      <div role="status">
        {isReleased && <p class="bound">{own.released}</p>}
        {answer?.state === 'bound' && (
          <p class="bound">{own.bound(answer.cot, answer.sleeve, clockHere(answer.useByMs, language))}</p>
        )}
        {answer?.state === 'more' && <Slots has={answer.has} />}
      </div>
      {answer && <Ways answer={answer} onRelease={release} onBegin={begin} />}
    </div>
  );
}

interface WaysProps {
  answer: BindAnswer;
  onRelease: (code: string) => void;
  onBegin: () => void;
}

function Ways({ answer, onRelease, onBegin }: WaysProps) {
  const own = WARD_WORDS[useChoices().language];
  const isStopped = answer.state === 'stop';
  const toRelease = isStopped && answer.stop === 'sleeve-bound' ? answer.text : null;
  return (
    <div class="scan-ways">
      {toRelease !== null && (
        <button type="button" onClick={() => onRelease(toRelease)}>
          {own.release}
        </button>
      )}
      <button type="button" class={isStopped ? 'strong' : ''} onClick={onBegin}>
        {own.again}
      </button>
    </div>
  );
}

function Slots({ has }: { has: readonly LabelKind[] }) {
  const own = WARD_WORDS[useChoices().language];
  return (
    <ul class="slots">
      {KINDS.map((kind) => (
        <li key={kind} data-has={has.includes(kind) || undefined}>
          <strong>{own.kinds[kind]}</strong> {has.includes(kind) ? own.scanned : own.still}
        </li>
      ))}
    </ul>
  );
}

function Stop({ stop }: { stop: StopCode }) {
  const own = WARD_WORDS[useChoices().language];
  return (
    <div class="stopped">
      <p class="stopped-word">{own.stop}</p>
      <p>{own.stops[stop]}</p>
    </div>
  );
}

function Camera({ onCode }: { onCode: (text: string) => void }) {
  const own = WARD_WORDS[useChoices().language];
  const [on, setOn] = useState(false);
  const video = useRef<HTMLVideoElement>(null);
  const tell = useRef(onCode);
  tell.current = onCode;
  useEffect(() => {
    if (!on) return;
    return lookForCodes(
      video.current!,
      (text) => tell.current(text),
      () => setOn(false),
    );
  }, [on]);
  if (!canSee()) return null;
  return (
    <>
      <button type="button" onClick={() => setOn(!on)}>
        {on ? own.cameraOff : own.camera}
      </button>
      {on && <video ref={video} class="camera" muted playsInline aria-label={own.camera} />}
    </>
  );
}
