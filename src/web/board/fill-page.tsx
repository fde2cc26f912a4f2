/** Filling a bottle for a child: scans both labels, and asks for amount and kind of milk. From then on the bottle belongs to this child only. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { AmountField, mlOf } from '../feeds/amount-field.tsx';
import { postJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { TextField } from '../parts/text-field.tsx';
import { instantHere } from './times.ts';
import { FILL_FROM, type FillFrom, WARD_WORDS } from './ward-words.ts';

interface Draft {
  bottle: string;
  child: string;
  from: FillFrom;
  container: string;
  amount: string;
}

const EMPTY: Draft = { bottle: '', child: '', from: 'list', container: '', amount: '' };

export function FillPage() {
  const { language, unit } = useChoices();
  const own = WARD_WORDS[language].filling;
  const [draft, setDraft] = useState(EMPTY);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [useByMs, setUseByMs] = useState<number | null>(null);
  const form = useRef<HTMLFormElement>(null);
  const change = (part: Partial<Draft>) => {
    setUseByMs(null);
    setDraft({ ...draft, ...part });
  };
  const fill = async () => {
    const posted = await postJson<{ useByMs: number }>('/fill', asked(draft, mlOf(draft.amount, unit)));
    if ('error' in posted) return setRefused(posted.error);
    setRefused(null);
    setUseByMs(posted.answer.useByMs);
    setDraft(EMPTY);
  };
  // A scanner types into the focused field and ends with Enter: Enter moves to the next empty field instead of sending the form.
  useLayoutEffect(() => form.current?.querySelector('input')?.focus(), []);
  return (
    <div class="binding">
      <h2>{own.title}</h2>
      <p>{own.say}</p>
      <form
        ref={form}
        class="filling"
        onSubmit={(event) => {
          event.preventDefault();
          const empty = [...form.current!.querySelectorAll<HTMLInputElement>('.field input')].find(
            ({ value }) => value.trim() === '',
          );
          if (empty) empty.focus();
          else void fill();
        }}
      >
        <TextField
          id="bottle"
          label={own.bottle}
          text={draft.bottle}
          onText={(bottle) => change({ bottle })}
        />
        <TextField id="child" label={own.child} text={draft.child} onText={(child) => change({ child })} />
        <OneOf
          name="from"
          label={own.from}
          choices={choicesOf(FILL_FROM, own.froms)}
          value={draft.from}
          onChoose={(from) => change({ from })}
        />
        {draft.from === 'list' && (
          <TextField
            id="container"
            label={own.container}
            text={draft.container}
            onText={(container) => change({ container })}
          />
        )}
        <AmountField
          id="amount"
          label={own.amount}
          text={draft.amount}
          onText={(amount) => change({ amount })}
        />
        <button type="submit" class="strong">
          {own.fill}
        </button>
      </form>
      {refused && <RefusedNotice error={refused} />}
      <div role="status">
        {useByMs !== null && <p class="bound">{own.filled(instantHere(useByMs, language))}</p>}
      </div>
    </div>
  );
}

const asked = ({ bottle, child, from, container }: Draft, ml: number | null) => ({
  bottle: bottle.trim(),
  child: child.trim(),
  // The server refuses what is not a number, with a message.
  ml: ml === null || Number.isNaN(ml) ? null : ml,
  from: from === 'list' ? container.trim() : null,
  kind: from === 'list' ? null : from,
});
