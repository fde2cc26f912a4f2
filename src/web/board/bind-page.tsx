/** Scanning: a scanner that types, the tablet's camera where the browser reads codes itself, or fingers. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { BindAnswer } from '../../app/ward/ward-answers.ts';
import { postJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { canSee, lookForCodes } from './camera.ts';
import { soundStop } from './stop-sound.ts';
import { clockHere } from './times.ts';
import { WARD_WORDS } from './ward-words.ts';

const KINDS = ['child', 'bottle', 'sleeve'] as const;

export function BindPage() {
  const { language } = useChoices();
  const own = WARD_WORDS[language];
  const [codes, setCodes] = useState<string[]>([]);
  const [answer, setAnswer] = useState<BindAnswer | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const begin = () => {
    setCodes([]);
    setAnswer(null);
    setRefused(null);
    input.current?.focus();
  };
  const scan = async (text: string) => {
    const code = text.trim();
    if (code === '') return;
    // After an end of either kind the next label begins anew; a stop is not scanned away by another label.
    if (answer?.state === 'stop') return;
    const next = answer?.state === 'bound' ? [code] : [...new Set([...codes, code])];
    const posted = await postJson<BindAnswer>('/bind', { codes: next });
    if ('error' in posted) return setRefused(posted.error);
    const said = posted.answer;
    setRefused(null);
    if (said.state === 'stop') soundStop();
    setAnswer(said);
    setCodes(said.state === 'more' ? next : []);
  };
  // A scanner types wherever the focus is: it is kept where codes go.
  useEffect(() => input.current?.focus(), []);
  return (
    <div class="binding">
      <h2>{own.bind}</h2>
      <p>{own.bindSay}</p>
      <form
        class="scan"
        onSubmit={(event) => {
          event.preventDefault();
          const field = input.current!;
          void scan(field.value);
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
      <div role="alert">
        {answer?.state === 'stop' && (
          <div class="stopped">
            <p class="stopped-word">{own.stop}</p>
            <p>{own.stops[answer.stop]}</p>
          </div>
        )}
      </div>
      <div role="status">
        {answer?.state === 'bound' && (
          <p class="bound">{own.bound(answer.cot, answer.sleeve, clockHere(answer.useByMs, language))}</p>
        )}
        {answer?.state === 'more' && (
          <ul class="slots">
            {KINDS.map((kind) => (
              <li key={kind} data-has={answer.has.includes(kind) || undefined}>
                <strong>{own.kinds[kind]}</strong> {answer.has.includes(kind) ? own.scanned : own.still}
              </li>
            ))}
          </ul>
        )}
      </div>
      {answer && (
        <button type="button" class={answer.state === 'stop' ? 'strong' : ''} onClick={begin}>
          {own.again}
        </button>
      )}
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
