/** Confirms twice before all data of a baby is deleted: first the typed name, then yes or no. */
import { useState } from 'preact/hooks';
import { sameName } from '../../base/babies.ts';
import { NameField } from '../before/name-field.tsx';
import { useChoices } from '../parts/choices.tsx';
import { KEPT_WORDS } from './kept-words.ts';

type Step = 'closed' | 'name' | 'sure' | 'deleting';

export interface ForgetBabyProps {
  name: string;
  /** @param again the name as typed */
  onForget: (again: string) => Promise<void>;
}

export function ForgetBaby({ name, onForget }: ForgetBabyProps) {
  const words = KEPT_WORDS[useChoices().language];
  const [step, setStep] = useState<Step>('closed');
  const [typed, setTyped] = useState('');
  const isName = sameName(typed, name);
  const close = () => {
    setStep('closed');
    setTyped('');
  };
  if (step === 'closed') {
    return (
      <button type="button" onClick={() => setStep('name')}>
        {words.forget(name)}
      </button>
    );
  }
  if (step === 'name') {
    return (
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (isName) setStep('sure');
        }}
      >
        <p>{words.warning(name)}</p>
        <NameField
          id={`forget-${name}`}
          label={words.typeName(name)}
          value={typed}
          onChange={(value) => setTyped(value ?? '')}
        />
        <button type="submit" disabled={!isName}>
          {words.goOn}
        </button>
        <button type="button" onClick={close}>
          {words.no}
        </button>
      </form>
    );
  }
  return (
    <div class="kept-ask" role="alertdialog" aria-label={words.sure(name)}>
      <p>
        <strong>{words.sure(name)}</strong>
      </p>
      <button
        type="button"
        disabled={step === 'deleting'}
        onClick={async () => {
          setStep('deleting');
          await onForget(typed);
          close();
        }}
      >
        {words.yes}
      </button>
      <button type="button" class="strong" disabled={step === 'deleting'} onClick={close}>
        {words.no}
      </button>
    </div>
  );
}
